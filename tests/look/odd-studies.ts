import { longNames, namesByScript, plainName } from "./odd-names.js";
import {
  changeAll,
  changeTable,
  daysBetween,
  demoStudyText,
  onlyAnimals,
  type StudyText,
  shiftDays,
  type TextRow,
  withoutTables,
} from "./study-text.js";

/** Where the records of the demo study end. */
const lastDay = "2024-11-24";

const few = [
  "O23-06",
  "O23-07",
  "S23-03",
  "S23-04",
  "O24-05",
  "O24-06",
  "O24-07",
  "S24-04",
  "S24-05",
];

/**
 * Studies that are unlike the demo study in one respect each, made from its
 * tables: many animals, one, long and foreign names, a kind of record that is
 * not kept. For looking at pages and for checks of them.
 */
export const oddStudies: Readonly<Record<string, () => StudyText>> = {
  "sixty-animals": sixtyAnimals,
  "ten-in-care": () => ward(10, 2),
  "fourteen-in-care": () => ward(14, 3),
  "five-in-danger": () => ward(9, 5),
  "one-animal": () => titled(onlyAnimals(demoStudyText(), ["O24-07"]), "One animal"),
  "long-names": longNamed,
  "other-scripts": otherScripts,
  "no-feeds": () =>
    titled(withoutTables(small(), ["feeds", "batches", "ingredients", "plans"]), "No feeds kept"),
  "no-observations": () =>
    titled(withoutTables(small(), ["observations", "events"]), "Nothing observed"),
  "no-plans": () => titled(withoutTables(small(), ["plans", "housing"]), "No plans kept"),
  "one-weighing": oneWeighing,
  "empty-season": emptySeason,
  "all-in-danger": () => ward(5, 5),
  "all-dead": allDead,
  "begun-yesterday": begunYesterday,
  "seals-in-the-fast": sealsInTheFast,
  "no-animal": () => titled(onlyAnimals(demoStudyText(), []), "Before the first animal"),
};

function small(): StudyText {
  return onlyAnimals(demoStudyText(), few);
}

function titled(study: StudyText, title: string): StudyText {
  return { ...study, settings: { ...study.settings, title: `${title} (invented)` } };
}

/** Copies of the demo's lives, moved in time so that all sixty are in care on the last day. */
function sixtyAnimals(): StudyText {
  const demo = demoStudyText();
  const lives = demo.tables["animals"]!.rows.filter((row) => (row["season"] ?? "") >= "2022");
  const copies = Array.from({ length: 60 }, (_, at) => {
    const life = lives[at % lives.length]!;
    const stay = 12 + ((at * 7) % 40);
    return {
      from: life["animal_id"]!,
      to: `P24-${String(at + 1).padStart(2, "0")}`,
      name: plainName(at),
      days: daysBetween(life["admitted_at"]!, lastDay) - stay,
    };
  });
  const times = /^(at|from|to|birth_date_.*|admitted_at)$/;
  const copied = (row: TextRow, copy: (typeof copies)[number]): TextRow => ({
    ...Object.fromEntries(
      Object.entries(row).map(([column, cell]) => [
        column,
        times.test(column) ? shiftDays(cell, copy.days) : cell,
      ]),
    ),
    animal_id: copy.to,
  });
  const animalTables = Object.entries(demo.tables).map(([name, table]) => {
    if (!table.columns.includes("animal_id")) return [name, table] as const;
    const byAnimal = groupedBy(table.rows);
    const rows = copies.flatMap((copy) =>
      (byAnimal.get(copy.from) ?? []).map((row) => copied(row, copy)),
    );
    const inTime = rows.filter((row) => (row["at"] ?? row["from"] ?? "").slice(0, 10) <= lastDay);
    return [name, { ...table, rows: inTime }] as const;
  });
  const all = { ...demo, tables: Object.fromEntries(animalTables) };
  const inCare = changeTable(all, "animals", (row, at) => ({
    ...row,
    name: copies[at]!.name,
    season: at % 2 === 0 ? "2024" : "2024 north",
    outcome: "in care",
    outcome_reason: "",
    outcome_date: "",
  }));
  // Batches stay where they were in time; the copies' feeds name none.
  const noBatch = changeTable(inCare, "feeds", (row) => ({ ...row, batch_id: "" }));
  return titled(withoutTables(noBatch, ["batches", "ingredients"]), "Sixty animals in care");
}

/** The first so many of the sixty, some of them in danger on the last evening, each by another sign. */
function ward(animals: number, dangers: number): StudyText {
  const all = sixtyAnimals();
  const ids = all.tables["animals"]!.rows.slice(0, animals).map((row) => row["animal_id"]!);
  const few = onlyAnimals(all, ids);
  const table = few.tables["observations"]!;
  const signs = [
    ["bloat", "severe", ""],
    ["temperature", "34.6", "degC"],
    ["stool", "black", ""],
    ["behaviour", "cannot be roused", ""],
    ["temperature", "41.2", "degC"],
  ] as const;
  const rows = signs.slice(0, dangers).map(
    ([kind, value, unit], at): TextRow => ({
      ...Object.fromEntries(table.columns.map((column) => [column, ""])),
      animal_id: ids[at]!,
      at: `${lastDay} 21:${10 + at}`,
      kind,
      value,
      unit,
    }),
  );
  const tables = { ...few.tables, observations: { ...table, rows: [...table.rows, ...rows] } };
  return titled({ ...few, tables }, `${animals} in care, ${dangers} in danger`);
}

function longNamed(): StudyText {
  const longId = `O24-07-${"transferred-from-the-outer-station-".repeat(3)}`.slice(0, 80);
  const named = changeTable(small(), "animals", (row, at) => ({
    ...row,
    name: longNames[at % longNames.length]!,
    season: `${row["season"]} combined intake of the northern and the outer stations`,
    outcome_reason: row["outcome_reason"] ? longNames[1]! : "",
  }));
  const ids = changeAll(named, (row) =>
    row["animal_id"] === "O24-07" ? { ...row, animal_id: longId } : row,
  );
  const diets = changeAll(ids, (row) =>
    row["diet_id"] ? { ...row, diet_id: `${row["diet_id"]}-as-mixed-by-the-night-shift` } : row,
  );
  return titled(
    diets,
    "A nursery whose name is as long as the list of those who built it, on the coast of long names",
  );
}

function otherScripts(): StudyText {
  const named = changeTable(small(), "animals", (row, at) => ({
    ...row,
    name: namesByScript[at % namesByScript.length]!.name,
    season: `${row["season"]} 春`,
    notes: namesByScript.map((each) => each.name).join(", "),
  }));
  const ids = changeAll(named, (row) =>
    row["animal_id"] === "O24-06" ? { ...row, animal_id: "Ж24-06" } : row,
  );
  const diets = changeAll(ids, (row) =>
    row["diet_id"] === "clam" ? { ...row, diet_id: "アサリ" } : row,
  );
  return titled(diets, "Ясли «Тихая Бухта» – 静かな入り江 – الخليج الهادئ");
}

/** Two animals in care, one of them weighed once. */
function oneWeighing(): StudyText {
  const two = onlyAnimals(demoStudyText(), ["O24-06", "O24-07"]);
  let seen = 0;
  const once = changeTable(two, "weighings", (row) =>
    row["animal_id"] === "O24-07" && seen++ > 0 ? null : row,
  );
  return titled(once, "One weighing only");
}

/** A season whose animals have no record but their arrival. */
function emptySeason(): StudyText {
  const without = changeAll(small(), (row, table) =>
    table !== "animals" && /^.23/.test(row["animal_id"] ?? "") ? null : row,
  );
  return titled(without, "A season without records");
}

/** Nobody is left: every animal has died, one without a reason. */
function allDead(): StudyText {
  const dead = changeTable(small(), "animals", (row, at) => ({
    ...row,
    outcome: at === 1 ? "euthanised" : "died",
    outcome_reason: at === 2 ? "" : "pneumonia",
    outcome_date: (row["outcome_date"] ?? "") === "" ? lastDay : row["outcome_date"]!,
  }));
  return titled(dead, "All have died");
}

/** Two animals, here since yesterday morning: a day of records and nothing before. */
function begunYesterday(): StudyText {
  const pups = onlyAnimals(demoStudyText(), ["O24-05", "S24-04"]);
  const times = /^(at|from|to|admitted_at)$/;
  const begins = new Map(
    pups.tables["animals"]!.rows.map((row) => [row["animal_id"]!, row["admitted_at"]!]),
  );
  const early = changeAll(pups, (row, table) => {
    const from = begins.get(row["animal_id"] ?? "");
    if (from === undefined) return table === "events" ? null : row;
    const at = row["at"] ?? row["from"] ?? from;
    return at.slice(0, 10) <= shiftDays(from, 1).slice(0, 10) ? row : null;
  });
  const moved = changeAll(early, (row) => {
    const from = begins.get(row["animal_id"] ?? "");
    if (from === undefined) return row;
    const days = daysBetween(from, lastDay) - 1;
    return Object.fromEntries(
      Object.entries(row).map(([column, cell]) => [
        column,
        times.test(column) || column.startsWith("birth_date_e") || column === "birth_date_latest"
          ? shiftDays(cell, days)
          : column === "batch_id"
            ? ""
            : cell,
      ]),
    );
  });
  const inCare = changeTable(moved, "animals", (row) => ({
    ...row,
    outcome: "in care",
    outcome_reason: "",
    outcome_date: "",
  }));
  return titled(withoutTables(inCare, ["batches", "ingredients"]), "Begun yesterday");
}

/** Seals whose last feed is days ago, as after weaning, still in care. */
function sealsInTheFast(): StudyText {
  const all = sixtyAnimals();
  const ids = all.tables["animals"]!.rows.flatMap((row) =>
    row["species"] === "harbour seal" ? [row["animal_id"]!] : [],
  );
  const seals = onlyAnimals(all, ids.slice(0, 5));
  const from = `${shiftDays(`${lastDay} 00:00`, -6).slice(0, 10)} 00:00`;
  const fasting = changeTable(seals, "feeds", (row) => ((row["at"] ?? "") < from ? row : null));
  return titled(fasting, "Seals in the fast");
}

function groupedBy(rows: readonly TextRow[]): ReadonlyMap<string, readonly TextRow[]> {
  const groups = new Map<string, TextRow[]>();
  for (const row of rows) {
    const id = row["animal_id"] ?? "";
    const group = groups.get(id);
    if (group === undefined) groups.set(id, [row]);
    else group.push(row);
  }
  return groups;
}
