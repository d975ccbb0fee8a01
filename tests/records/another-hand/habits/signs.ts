import { type Draft, type Habit, rewrite } from "../draft.js";

/** Two decimals, so that no reading crosses a limit by being rounded on the way. */
const fahrenheit = (c: string) => ((Number(c) * 9) / 5 + 32).toFixed(2);

function temperatures(draft: Draft, change: (celsius: string) => readonly [string, string]): void {
  for (const row of draft.tables.get("observations")?.rows ?? []) {
    if (row.cells["kind"] !== "temperature") continue;
    const [value, unit] = change(row.cells["value"]!);
    row.cells["value"] = value;
    row.cells["unit"] = unit;
  }
}

const temperature = (
  name: string,
  change: (celsius: string) => readonly [string, string],
  reads: Habit["reads"] = "without asking",
): Habit => ({
  name: `temperature: ${name}`,
  reads,
  settles: ["temperature"],
  write: (draft) => temperatures(draft, change),
});

const none = ["none", "none seen", "no vomit", "0", "nil", "nothing", "no"];
const some = ["yes", "small, milky", "+", "once", "a little"];

export const signHabits: readonly Habit[] = [
  temperature("the unit in the cell, 37.8C", (c) => [`${c}C`, ""]),
  temperature("37.8 °C in one cell", (c) => [`${c} °C`, ""]),
  temperature("Fahrenheit with its unit", (c) => [fahrenheit(c), "degF"]),
  temperature("Fahrenheit in the cell, 100.1 F", (c) => [`${fahrenheit(c)} F`, ""]),
  temperature("the unit as a word, Fahrenheit", (c) => [fahrenheit(c), "Fahrenheit"]),
  temperature("the unit as deg F", (c) => [fahrenheit(c), "deg F"]),
  temperature("no unit, degrees Celsius", (c) => [c, ""]),
  temperature("no unit, Fahrenheit", (c) => [fahrenheit(c), ""], "must ask"),
  {
    name: "vomit: other words for none and some",
    reads: "without asking",
    settles: ["vomit"],
    write: (draft, random) => {
      for (const { cells } of draft.tables.get("observations")?.rows ?? []) {
        if (cells["kind"] !== "vomit") continue;
        if (cells["value"] !== "none" && cells["value"] !== "yes") continue;
        const words = cells["value"] === "none" ? none : some;
        cells["value"] = words[random.below(words.length)]!;
      }
    },
  },
  {
    name: "vomit: written down only when it happens",
    reads: "without asking",
    settles: ["vomit"],
    write: (draft) => {
      const table = draft.tables.get("observations");
      if (table === undefined) return;
      const last = new Map(table.rows.map(({ cells, id }) => [cells["animal_id"], id]));
      // An animal's last line stays: without it nothing would be written of it for hours.
      table.rows = table.rows.filter(
        ({ cells, id }) =>
          cells["kind"] !== "vomit" ||
          cells["value"] !== "none" ||
          last.get(cells["animal_id"]) === id,
      );
    },
  },
  {
    name: "nil by mouth: NPO",
    reads: "without asking",
    settles: ["nil by mouth"],
    write: (draft) => {
      rewrite(draft, "plans", "diet_id", (cell) => (cell === "nil by mouth" ? "NPO" : cell));
    },
  },
  {
    name: "words in capitals",
    reads: "without asking",
    settles: ["words"],
    write: (draft) => {
      for (const column of ["coat", "meal", "method"])
        rewrite(draft, "weighings", column, (word) => word.toUpperCase());
      rewrite(draft, "feeds", "route", (word) => word[0]!.toUpperCase() + word.slice(1));
    },
  },
  {
    name: "sex by one letter",
    reads: "without asking",
    settles: ["sex"],
    write: (draft) => rewrite(draft, "animals", "sex", (word) => word[0]!.toUpperCase()),
  },
];
