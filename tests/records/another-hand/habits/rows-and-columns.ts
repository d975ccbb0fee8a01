import type { Random } from "../../../../src/core/random.js";
import type { Draft, DraftRow, DraftTable, Habit } from "../draft.js";

const large = ["weighings", "feeds", "observations"];

function tables(draft: Draft, change: (table: DraftTable) => void, names = large): void {
  for (const name of names) {
    const table = draft.tables.get(name);
    if (table !== undefined) change(table);
  }
}

const order = (name: string, change: (rows: DraftRow[], random: Random) => DraftRow[]): Habit => ({
  name: `rows: ${name}`,
  reads: "without asking",
  settles: ["order"],
  write: (draft, random) =>
    tables(draft, (table) => {
      table.rows = change(table.rows, random);
    }),
});

/** A blank line where the day changes. */
function blankLines(rows: readonly DraftRow[]): DraftRow[] {
  let day = "";
  return rows.flatMap((row) => {
    const here = row.cells["at"]?.slice(0, 10) ?? "";
    const turned = day !== "" && here !== day;
    day = here;
    return turned ? [{ id: null, cells: {} }, row] : [row];
  });
}

const headings: Readonly<
  Record<"other words" | "German" | "capitals", Readonly<Record<string, string>>>
> = {
  "other words": {
    animal_id: "Pup",
    at: "When",
    mass_g: "Weight (g)",
    tare_g: "Tare (g)",
    coat: "Fur",
    diet_id: "Food",
    offered_g: "Amount (g)",
    refused_g: "Left over (g)",
    value: "Result",
  },
  German: {
    animal_id: "Tier",
    at: "Datum",
    mass_g: "Gewicht (g)",
    tare_g: "Tara (g)",
    scale_id: "Waage",
    diet_id: "Futter",
    offered_g: "Menge (g)",
    refused_g: "Rest (g)",
    value: "Wert",
    unit: "Einheit",
  },
  capitals: {
    animal_id: "ANIMAL ID",
    at: "At",
    mass_g: "Mass (g)",
    tare_g: "Tare (g)",
    scale_id: "Scale ID",
    diet_id: "Diet ID",
    offered_g: "Offered (g)",
    refused_g: "Refused (g)",
    value: "Value",
  },
};

const words = (name: keyof typeof headings): Habit => ({
  name: `headings: ${name}`,
  reads: "without asking",
  settles: ["header words", "mass header", "feed header"],
  write: (draft) =>
    tables(draft, (table) => {
      for (const column of table.columns) {
        const word = headings[name][column];
        if (word !== undefined) table.headers.set(column, word);
      }
    }),
});

export const rowAndColumnHabits: readonly Habit[] = [
  order("the newest first", (rows) => [...rows].reverse()),
  order("in no order", (rows, random) => random.shuffled(rows)),
  order("animal after animal", (rows) =>
    [...rows].sort((a, b) =>
      a.cells["animal_id"]! < b.cells["animal_id"]!
        ? -1
        : a.cells["animal_id"]! > b.cells["animal_id"]!
          ? 1
          : 0,
    ),
  ),
  order("a blank line after each day", blankLines),
  {
    name: "rows: the headings again on every page",
    reads: "without asking",
    settles: ["pages"],
    write: (draft) =>
      tables(draft, (table) => {
        table.repeatHeaderEvery = 30;
      }),
  },
  {
    name: "rows: one entered twice",
    reads: "must ask",
    settles: ["twice"],
    write: (draft, random) =>
      tables(draft, (table) => {
        // A copy stands below its row; elsewhere a blank id above it would mean another animal.
        const at = random.below(table.rows.length);
        table.rows.splice(at + 1, 0, { id: null, cells: { ...table.rows[at]!.cells } });
      }),
  },
  {
    name: "rows: a line of totals at the end",
    reads: "must ask",
    settles: ["totals"],
    write: (draft) =>
      tables(
        draft,
        (table) => {
          const total = table.rows.reduce(
            (sum, row) => sum + Number(row.cells["offered_g"] ?? 0),
            0,
          );
          table.rows.push({ id: null, cells: { animal_id: "Total", offered_g: String(total) } });
        },
        ["feeds"],
      ),
  },
  words("other words"),
  words("German"),
  words("capitals"),
  {
    name: "columns: in another order",
    reads: "without asking",
    settles: ["columns"],
    write: (draft, random) =>
      tables(draft, (table) => {
        table.columns = random.shuffled(table.columns);
      }),
  },
  {
    name: "columns: others beside ours",
    reads: "without asking",
    settles: ["extra"],
    write: (draft) =>
      tables(draft, (table) => {
        table.columns = ["weather", ...table.columns, "initials"];
        for (const { cells, id } of table.rows) {
          if (id === null) continue;
          cells["weather"] = "rain";
          cells["initials"] = "ab";
        }
      }),
  },
  {
    name: "columns: only the needed ones",
    reads: "without asking",
    settles: ["fewer"],
    write: (draft) => {
      const table = draft.tables.get("weighings")!;
      table.columns = table.columns.filter((c) => c !== "scale_id" && c !== "method");
    },
  },
  {
    name: "sheet: title lines above the header",
    reads: "without asking",
    settles: ["above"],
    write: (draft) =>
      tables(draft, (table) => {
        table.above = ["Nursery two, season 2025", ""];
      }),
  },
  {
    name: "sheet: comment lines above the header",
    reads: "without asking",
    settles: ["above"],
    write: (draft) =>
      tables(draft, (table) => {
        table.above = ["# kept by the night shift", "# grams"];
      }),
  },
];
