import { type Draft, type Habit, rewrite } from "../draft.js";
import type { TrueStudy } from "../true-study.js";

const comma = (text: string) => text.replace(".", ",");
const kg = (g: string) => (Number(g) / 1000).toFixed(4).replace(/0$/, "");
const pounds = (g: string) => (Number(g) / 453.59237).toFixed(4);
const ounces = (g: string) => (Number(g) / 28.349523125).toFixed(3);

/** Masses of weighings in another unit, which the header names. */
function masses(draft: Draft, unit: string, change: (g: string) => string): void {
  for (const column of ["mass_g", "tare_g"]) {
    rewrite(draft, "weighings", column, change);
    draft.tables.get("weighings")!.headers.set(column, column.replace("_g", `_${unit}`));
  }
}

function feeds(draft: Draft, header: (column: string) => string, change: (g: string) => string) {
  for (const column of ["offered_g", "refused_g"]) {
    rewrite(draft, "feeds", column, change);
    draft.tables.get("feeds")!.headers.set(column, header(column));
  }
}

const massHabit = (
  name: string,
  write: Habit["write"],
  reads: Habit["reads"] = "without asking",
): Habit => ({
  name: `weighings: ${name}`,
  reads,
  settles: ["mass", "mass header"],
  write,
});
const feedHabit = (
  name: string,
  write: Habit["write"],
  reads: Habit["reads"] = "without asking",
): Habit => ({
  name: `feeds: ${name}`,
  reads,
  settles: ["offered", "refused", "feed header"],
  write,
});

/** Grams as millilitres, by the density of the diet. */
const densityOf = (truth: TrueStudy, diet: string | undefined) =>
  Number(truth.tables["diets"]?.rows.find((d) => d["diet_id"] === diet)?.["density_g_per_ml"]);
function volume(draft: Draft, unit: string): void {
  for (const { cells } of draft.tables.get("feeds")!.rows) {
    const density = densityOf(draft.truth, cells["diet_id"]);
    if (!(density > 0)) continue;
    for (const column of ["offered_g", "refused_g"])
      if (Number(cells[column]) > 0)
        cells[column] = `${(Number(cells[column]) / density).toFixed(2)}${unit}`;
  }
}
/** Every diet that is fed has a density, so that one header serves. */
const allLiquid = (truth: TrueStudy) =>
  truth.tables["feeds"]!.rows.every((f) => densityOf(truth, f["diet_id"]) > 0);
/** Every weighing has its tare written. */
const allTared = (truth: TrueStudy) =>
  truth.tables["weighings"]!.rows.every((w) => w["tare_g"] !== "");

export const amountHabits: readonly Habit[] = [
  massHabit("kilograms, in the header", (draft) => masses(draft, "kg", kg)),
  massHabit("kilograms, each cell with its unit", (draft) => {
    rewrite(draft, "weighings", "mass_g", (g) => `${kg(g)} kg`);
  }),
  massHabit("pounds, in the header", (draft) => masses(draft, "lb", pounds)),
  massHabit("pounds and ounces in one cell", (draft) => {
    rewrite(draft, "weighings", "mass_g", (g) => {
      const all = Number(g) / 28.349523125;
      const lb = Math.floor(all / 16);
      return `${lb} lb ${(all - 16 * lb).toFixed(2)} oz`;
    });
  }),
  massHabit("grams with their unit", (draft) => {
    rewrite(draft, "weighings", "mass_g", (g) => `${g} g`);
  }),
  massHabit("a blank between thousands", (draft) => {
    rewrite(draft, "weighings", "mass_g", (g) => g.replace(/(\d)(\d{3})$/, "$1 $2"));
  }),
  massHabit(
    "a comma between thousands",
    (draft) => {
      rewrite(draft, "weighings", "mass_g", (g) => g.replace(/(\d)(\d{3})$/, "$1,$2"));
    },
    "must ask",
  ),
  massHabit("kilograms with a decimal comma, told in study.json", (draft) => {
    masses(draft, "kg", (g) => comma(kg(g)));
    draft.settings["decimals"] = { weighings: "comma" };
  }),
  massHabit("kilograms with a decimal comma, not told", (draft) => {
    masses(draft, "kg", (g) => comma((Number(g) / 1000).toFixed(3)));
    draft.style.delimiter = ";";
  }),
  {
    name: "weighings: a blank tare means none",
    reads: "without asking",
    settles: ["tare", "mass"],
    fits: allTared,
    write: (draft) => {
      draft.settings["blank_tare_is_zero"] = true;
      rewrite(draft, "weighings", "mass_g", (g, cells) =>
        String(Number(g) - Number(cells["tare_g"])),
      );
      rewrite(draft, "weighings", "tare_g", () => "");
    },
  },
  feedHabit("ounces, in the header", (draft) =>
    feeds(draft, (c) => c.replace("_g", "_oz"), ounces),
  ),
  feedHabit("grams with their unit", (draft) => {
    rewrite(draft, "feeds", "offered_g", (g) => `${g}g`);
  }),
  feedHabit("millilitres in the cell", (draft) => volume(draft, " mL")),
  {
    ...feedHabit("millilitres, in the header", (draft) => {
      volume(draft, "");
      for (const column of ["offered_g", "refused_g"])
        draft.tables.get("feeds")!.headers.set(column, column.replace("_g", "_ml"));
    }),
    fits: allLiquid,
  },
  feedHabit("eaten, offered and left over in one cell", (draft) => {
    rewrite(draft, "feeds", "offered_g", (g, cells) => {
      const left = cells["refused_g"] ?? "";
      return left === "" ? g : `${Number(g) - Number(left)}/${g} (${left} left)`;
    });
    rewrite(draft, "feeds", "refused_g", () => "");
  }),
  {
    name: "refused: none and nil for zero",
    reads: "without asking",
    settles: ["refused"],
    write: (draft, random) => {
      rewrite(draft, "feeds", "refused_g", (g) =>
        g !== "0" ? g : ["none", "nil", "0", "0 g"][random.below(4)]!,
      );
    },
  },
  {
    name: "refused: words for unknown",
    reads: "without asking",
    settles: ["refused"],
    write: (draft, random) => {
      for (const row of draft.tables.get("feeds")!.rows)
        if (row.cells["refused_g"] === "")
          row.cells["refused_g"] = ["?", "unknown", "not weighed", "n/a"][random.below(4)]!;
    },
  },
  {
    name: "refused: blank means none, a question mark unknown",
    reads: "without asking",
    settles: ["refused"],
    write: (draft) => {
      draft.settings["blank_refusal_is_none"] = true;
      for (const row of draft.tables.get("feeds")!.rows) {
        const cell = row.cells["refused_g"];
        row.cells["refused_g"] = cell === "" ? "?" : cell === "0" ? "" : cell!;
      }
    },
  },
];
