import { civilDate, dayNumber, localDay } from "./clock.js";
import type { DemoRow, DemoTable, Slip } from "./demo-table.js";

/**
 * Writes the deliberate errors into the tables. Each is what a tired hand does;
 * each is listed in the truth file with the file, the line, and the true value.
 */
export function makeSlips(tables: Readonly<Record<string, DemoTable>>): void {
  const weighings = tables["weighings"]!;
  const feeds = tables["feeds"]!;
  const w = (animal: string, n: number, wanted: (row: DemoRow) => boolean = () => true) =>
    nth(weighings, animal, n, wanted);
  const bucket = (row: DemoRow) =>
    row.cells[5] === "bucket" && row.cells[3] !== "" && row.cells[7] === "before";
  const platform = (row: DemoRow) => row.cells[4] === "platform-1" && row.cells[7] === "before";

  // Kilograms written where grams belong.
  edit(weighings, w("O22-05", 6, platform), "mass_g", (g) => (Number(g) / 1000).toString(), {
    kind: "thousandth",
    expected: "suspected slip",
  });
  edit(weighings, w("S23-02", 12, platform), "mass_g", (g) => (Number(g) / 1000).toString(), {
    kind: "thousandth",
    expected: "suspected slip",
  });
  // A digit dropped.
  edit(weighings, w("O22-04", 30, bucket), "mass_g", (g) => g.slice(0, 1) + g.slice(2), {
    kind: "digit dropped",
    expected: "suspected slip",
  });
  edit(weighings, w("O24-02", 55, bucket), "mass_g", (g) => g.slice(0, -1), {
    kind: "digit dropped",
    expected: "suspected slip",
  });
  // Two digits exchanged.
  edit(
    weighings,
    w(
      "O23-01",
      40,
      (row) => bucket(row) && Number(row.cells[2]![1]) - Number(row.cells[2]![0]) >= 3,
    ),
    "mass_g",
    (g) => g[1]! + g[0]! + g.slice(2),
    {
      kind: "digits swapped",
      expected: "suspected slip",
    },
  );
  // The bucket was not taken off.
  edit(weighings, w("O23-05", 22, bucket), "tare_g", () => "0", {
    kind: "tare forgotten",
    expected: "suspected slip",
  });
  edit(weighings, lastOf(weighings, "O25-03"), "tare_g", () => "0", {
    kind: "tare forgotten",
    expected: "suspected slip",
  });
  // Two animals exchanged on one morning.
  swapAnimals(weighings, "O23-02", "O23-03");
  // Day and month exchanged.
  edit(weighings, firstOn(weighings, "O22-02", dayNumber(2022, 6, 5)), "at", exchanged, {
    kind: "wrong day",
    expected: "suspected slip",
  });
  edit(feeds, firstOn(feeds, "O24-02", dayNumber(2024, 6, 8)), "at", exchanged, {
    kind: "wrong day",
    expected: "seen only by its old batch",
  });

  // Cells that cannot be read, keys that lead nowhere.
  edit(weighings, w("O22-05", 15), "mass_g", (g) => `${g}?`, {
    kind: "text in a number",
    expected: "set aside",
  });
  edit(weighings, w("S22-03", 9), "mass_g", () => "asleep", {
    kind: "text in a number",
    expected: "set aside",
  });
  edit(weighings, w("O23-04", 20), "mass_g", (g) => `-${g}`, {
    kind: "negative mass",
    expected: "set aside",
  });
  edit(weighings, w("O24-01", 12), "animal_id", () => "O24-91", {
    kind: "unknown animal",
    expected: "set aside",
  });
  edit(feeds, nth(feeds, "O22-05", 200), "offered_g", (g) => `about ${g}`, {
    kind: "text in a number",
    expected: "set aside",
  });
  edit(feeds, nth(feeds, "O22-01", 310), "animal_id", () => "O22-0l", {
    kind: "unknown animal",
    expected: "set aside",
  });
  edit(
    feeds,
    nth(feeds, "S24-02", 60),
    "at",
    (at) => `${at.slice(8, 10)}/${at.slice(5, 7)}/${at.slice(0, 4)}${at.slice(10)}`,
    { kind: "date in another style", expected: "set aside" },
  );
  edit(
    feeds,
    nth(feeds, "O23-04", 120),
    "refused_g",
    (_, row) => String(Number(row.cells[5]) + 30),
    { kind: "more refused than offered", expected: "accepted with a notice" },
  );
  edit(
    weighings,
    firstOn(weighings, "O22-01", dayNumber(2022, 4, 30)),
    "at",
    (at) => `2022-04-31${at.slice(10)}`,
    { kind: "date that does not exist", expected: "set aside" },
  );
  edit(feeds, nth(feeds, "O23-05", 77), "batch_id", (id) => `${id}9`, {
    kind: "unknown batch",
    expected: "accepted with a notice",
  });

  // A feed copied twice.
  const twice = nth(feeds, "O22-02", 150);
  feeds.rows.push({
    order: twice.order,
    cells: [...twice.cells],
    slip: {
      kind: "duplicate row",
      expected: "set aside",
      column: "at",
      trueValue: "the row stands once",
      animal: "O22-02",
    },
  });
}

function nth(
  table: DemoTable,
  animal: string,
  n: number,
  wanted: (row: DemoRow) => boolean = () => true,
): DemoRow {
  const rows = table.rows.filter(
    (row) => row.cells[0] === animal && row.slip === undefined && wanted(row),
  );
  const row = rows[Math.min(n, rows.length - 1)];
  if (row === undefined) throw new Error(`${table.name}: no row for ${animal}`);
  return row;
}

function firstOn(table: DemoTable, animal: string, day: number): DemoRow {
  const at = table.columns.indexOf("at");
  const row = table.rows.find(
    (each) =>
      each.cells[0] === animal &&
      each.slip === undefined &&
      each.cells[at]!.startsWith(civilDate(day)),
  );
  if (row === undefined)
    throw new Error(`${table.name}: nothing of ${animal} on ${civilDate(day)}`);
  return row;
}

function lastOf(table: DemoTable, animal: string): DemoRow {
  return table.rows
    .filter((row) => row.cells[0] === animal)
    .reduce((a, b) => (b.order > a.order ? b : a));
}

function edit(
  table: DemoTable,
  row: DemoRow,
  column: string,
  change: (cell: string, row: DemoRow) => string,
  slip: Pick<Slip, "kind" | "expected"> & { readonly otherAnimal?: string },
): void {
  const at = table.columns.indexOf(column);
  const was = row.cells[at]!;
  row.slip = { ...slip, column, trueValue: was, animal: row.cells[0]! };
  row.cells[at] = change(was, row);
}

function exchanged(at: string): string {
  return `${at.slice(0, 4)}-${at.slice(8, 10)}-${at.slice(5, 7)}${at.slice(10)}`;
}

/** The first morning, from age three weeks on, on which both were weighed and differ by a fifth. */
function swapAnimals(weighings: DemoTable, a: string, b: string): void {
  const of = (id: string) =>
    weighings.rows.filter(
      (row) =>
        row.cells[0] === id &&
        row.cells[7] === "before" &&
        row.cells[5] === "bucket" &&
        row.slip === undefined,
    );
  const net = (row: DemoRow) => Number(row.cells[2]) - Number(row.cells[3]);
  for (const ra of of(a).slice(25))
    for (const rb of of(b)) {
      const ratio = net(ra) / net(rb);
      if (localDay(ra.order) !== localDay(rb.order) || (ratio > 0.8 && ratio < 1.25)) continue;
      if (rb.cells[3] === "" || ra.cells[3] === "") continue;
      edit(weighings, ra, "animal_id", () => b, {
        kind: "animals swapped",
        expected: "suspected slip",
        otherAnimal: b,
      });
      edit(weighings, rb, "animal_id", () => a, {
        kind: "animals swapped",
        expected: "suspected slip",
        otherAnimal: a,
      });
      return;
    }
  throw new Error(`${a} and ${b} never differ enough on one morning`);
}
