import { writeFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { orderDoubts } from "../../src/planning/order-doubts.js";
import { seriesUpTo } from "../../src/rates/series-up-to.js";
import { readStudy } from "../../src/records/files/read-study.js";
import type { PlanRow } from "../../src/records/study.js";
import { buildSeries } from "../../src/series/build-series.js";
import { dayOrder } from "../../src/series/orders/day-order.js";
import { ordersOf } from "../../src/series/orders/orders-of.js";
import { feedingDayOf } from "../../src/units/calendar.js";

/**
 * How often the bounds doubt the demo's orders as they are, and how often they
 * doubt the same orders with one line written wrong: ten times, a tenth, a
 * hundred times the grams. Each order is looked at as it begins, with what was on
 * record by then. The demo's orders are invented to be sound, so every doubt
 * about them as they are is a false one.
 */
const folder = fileURLToPath(new URL("../fixtures/demo-853cc0e", import.meta.url));
const study = await readStudy(folder);
const { settings, tables } = study;
const series = buildSeries(study, { slips: false });
const diets = new Map(tables.diets.map((d) => [d.dietId, d]));

const scaled = (row: PlanRow, by: number): PlanRow => {
  const value = row.perFeed?.value;
  if (value == null || value === "nil by mouth") return row;
  const amount = Math.round(value.amount * by);
  return { ...row, perFeed: { words: `${amount}`, value: { ...value, amount } } };
};
const slips: readonly (readonly [string, number])[] = [
  ["as it is", 1],
  ["ten times", 10],
  ["a tenth", 0.1],
  ["a hundred times", 100],
];
const results: object[] = [];
for (const [name, by] of slips) {
  let lines = 0;
  let danger = 0;
  let doubted = 0;
  const codes = new Map<string, number>();
  for (const own of series.animals) {
    const rows = tables.plans.filter((row) => row.animalId === own.animal.animalId);
    const begins = [...new Set(rows.map((row) => row.from))].sort((a, b) => a - b);
    for (const from of begins.slice(1)) {
      const order = rows.filter((row) => row.from === from);
      for (const wrong of by === 1 ? order.slice(0, 1) : order) {
        const changed = rows.map((row) => (row === wrong ? scaled(row, by) : row));
        const orders = ordersOf(changed, diets, settings);
        const past = seriesUpTo({ ...own, orders }, from);
        const day = dayOrder(
          orders,
          feedingDayOf(from, settings.zone, settings.feedingDayStartHour),
        );
        const doubts = orderDoubts(past, day, { at: from, settings });
        const real = doubts.filter((d) => d.level !== "not checked");
        lines++;
        if (real.some((d) => d.level === "danger")) danger++;
        if (real.length > 0) doubted++;
        for (const d of doubts) codes.set(d.why.code, (codes.get(d.why.code) ?? 0) + 1);
      }
    }
  }
  results.push({
    written: name,
    looked: lines,
    doubted,
    danger,
    doubts: Object.fromEntries(codes),
  });
}
const result = {
  bench: "orders-doubted",
  date: new Date().toISOString().slice(0, 10),
  about: "orders as they are are counted once, written wrong once for each of their lines",
  results,
};
writeFileSync(
  new URL("results/orders-doubted.json", import.meta.url),
  `${JSON.stringify(result, null, 2)}\n`,
);
console.log(JSON.stringify(result, null, 2));
