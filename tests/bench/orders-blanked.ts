import { writeFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { readStudy } from "../../src/records/files/read-study.js";
import type { PlanRow } from "../../src/records/study.js";
import { buildSeries } from "../../src/series/build-series.js";
import { dayOrder } from "../../src/series/orders/day-order.js";
import { feedingDayOf } from "../../src/units/calendar.js";

/**
 * The demo's changes of order with every `to` blanked, as many keepers leave it:
 * how often the day printed from a change on is the newest order, row by row and
 * in grams, and what summing the open lines by diet would have printed instead.
 * Truth is the table itself: lines of one animal with one `from` are one order.
 */
const folder = fileURLToPath(new URL("../fixtures/demo-853cc0e", import.meta.url));
const study = await readStudy(folder);
const open = study.tables.plans.map((row) => ({ ...row, to: null }));
const series = buildSeries(
  { ...study, tables: { ...study.tables, plans: open } },
  { slips: false },
);
const { zone, feedingDayStartHour } = study.settings;

const orders = new Map<string, PlanRow[]>();
for (const row of open) {
  const key = `${row.animalId}|${row.from}`;
  orders.set(key, [...(orders.get(key) ?? []), row]);
}
const amountOf = (row: PlanRow) =>
  typeof row.perFeed?.value === "object" && row.perFeed.value !== null
    ? row.perFeed.value.amount
    : Number.NaN;
const feedsOf = (row: PlanRow) => Number(row.feedsPerDay?.value);
const sum = (rows: readonly PlanRow[]) =>
  rows.reduce((total, row) => total + amountOf(row) * feedsOf(row), 0);

let changes = 0;
let sameGrams = 0;
let sameRows = 0;
let askedAbout = 0;
const times: number[] = [];
for (const rows of orders.values()) {
  const { animalId, from } = rows[0]!;
  const own = series.animals.find((s) => s.animal.animalId === animalId)!;
  const earlier = open.filter((row) => row.animalId === animalId && row.from < from);
  if (earlier.length === 0) continue;
  changes++;
  const day = dayOrder(own.orders, feedingDayOf(from, zone, feedingDayStartHour));
  const written = rows.flatMap((row) =>
    new Array(feedsOf(row)).fill(`${row.dietId} ${amountOf(row)} g`),
  );
  const printed = day.feeds.map((f) => `${f.line.dietId} ${f.line.perFeed}`);
  if (day.grams === sum(rows)) sameGrams++;
  if (JSON.stringify(printed.sort()) === JSON.stringify(written.sort())) sameRows++;
  if (day.atStart.notEnded.length > 0) askedAbout++;
  // Summing by diet: of each diet the newest line, whoever ended it.
  const newest = new Map<string | null, number>();
  for (const row of [...earlier, ...rows])
    newest.set(row.dietId, Math.max(row.from, newest.get(row.dietId) ?? 0));
  const byDiet = [...earlier, ...rows].filter((row) => row.from === newest.get(row.dietId));
  times.push(sum(byDiet) / sum(rows));
}
times.sort((a, b) => a - b);
const middle = (values: readonly number[]) => values[values.length >> 1] ?? null;
const result = {
  bench: "orders-blanked",
  date: new Date().toISOString().slice(0, 10),
  orders: orders.size,
  changes,
  inTheGramsOfTheNewest: sameGrams,
  rowByRowAsTheNewest: sameRows,
  withAnOlderLineApart: askedAbout,
  summingByDiet: {
    medianWhereAnOlderDietStandsOpen: middle(times.filter((t) => t > 1)),
    median: middle(times),
    most: times.at(-1),
  },
};
writeFileSync(
  new URL("results/orders-blanked.json", import.meta.url),
  `${JSON.stringify(result, null, 2)}\n`,
);
console.log(result);
