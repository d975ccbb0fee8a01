import { describe, expect, it } from "vitest";
import { compareRations } from "../../src/planning/compare-rations.js";
import { planDay } from "../../src/planning/plan-day.js";
import { expectedGains } from "../../src/rates/expected-gains.js";
import { rationRows, scenarioRows, sheetRows } from "../../src/report/feeding/sheet-rows.js";
import type { AnimalSeries, StudySeries } from "../../src/series/animal-series.js";
import {
  dailyMasses,
  day,
  feedsEvery,
  hour,
  settings,
  smallSeries,
  start,
} from "../rates/small-study.js";

const at = start + 9 * day + 12 * hour;
const seen = (kind: string, hoursAgo: number, more: object) => ({
  at: at - hoursAgo * hour,
  kind,
  ...more,
});
const one = (id: string, more: Parameters<typeof smallSeries>[0] = {}): AnimalSeries => {
  const s = smallSeries({
    weighings: dailyMasses(10, () => 2000),
    feeds: feedsEvery(3, start, at, { offeredG: 80, refusedG: 5 }),
    observations: [
      seen("temperature", 3, { value: 37.8, unit: "degC" }),
      seen("stool", 5, { valueText: "formed" }),
      seen("urine", 4, { valueText: "clear" }),
    ],
    ...more,
  });
  return { ...s, animal: { ...s.animal, animalId: id } };
};
const study: StudySeries = {
  settings,
  animals: [
    one("P1"),
    one("P2", { observations: [] }),
    // Its records end with its release on the fifth day.
    one("P3", {
      animal: { outcome: "released", outcomeDate: "2025-05-05" },
      weighings: dailyMasses(5, () => 2000),
      feeds: feedsEvery(3, start, start + 4 * day, { offeredG: 80, refusedG: 5 }),
    }),
  ],
  scaleChecks: [],
  batches: [],
  events: [],
  notices: [],
};

describe("tomorrow for every animal in care", () => {
  const planned = planDay(study, { at }).value;

  it("plans those in care, holds one, and leaves out the one that has left", () => {
    expect(planned.feedingDay).toBe("2025-05-11");
    expect(planned.rations.map((r) => [r.animalId, r.status])).toEqual([
      ["P1", "ration"],
      ["P2", "hold"],
    ]);
  });

  it("plans for one that is fed though it is written as released", () => {
    const fed = one("P4", { animal: { outcome: "released", outcomeDate: "2025-05-05" } });
    const rations = planDay({ ...study, animals: [fed] }, { at }).value.rations;
    expect(rations.map((r) => [r.animalId, r.status])).toEqual([["P4", "ration"]]);
  });

  it("makes batches for both halves of the day that hold every formula feed and the spare", () => {
    expect(planned.batches.map((b) => b.needs[0]!.fedG)).toEqual([300, 300]);
    expect(planned.batches.map((b) => b.needs[0]!.batchG)).toEqual([315, 315]);
    const six = planDay(study, { at, batchH: 6 }).value.batches;
    expect(six.reduce((s, b) => s + (b.needs[0]?.fedG ?? 0), 0)).toBe(600);
  });

  it("takes options of single animals", () => {
    const more = planDay(study, { at, animals: { P1: { feedsPerDay: 6 } } }).value;
    expect(more.rations[0]!.feeds).toHaveLength(6);
  });

  it("is empty, not broken, without animals in care", () => {
    const none = planDay({ ...study, animals: [] }, { at }).value;
    expect([none.rations, none.batches, none.sheet.animals]).toEqual([[], [], []]);
  });

  it("prints as rows what is ordered, and what to ask where nothing is; amounts stand apart", () => {
    const rows = sheetRows(planned.sheet, "UTC");
    expect(rows.map((r) => [r["animal"], r["time"], r["diet"], r["ordered"]])).toEqual([
      ["Tarn (P1)", "–", "no order", ""],
      ["Tarn (P2)", "–", "no order", ""],
    ]);
    expect(rows[0]!["note"]).toMatch(/^No order in the file: ask now/);
    expect(rows[1]!["note"]).toMatch(/^Temperature first: none is written.*do not feed, call/);
    const plans = [{ from: start, dietId: "formula", gPerFeed: 45, feedsPerDay: 2 }];
    const ordered = planDay({ ...study, animals: [one("P1", { plans })] }, { at }).value;
    expect(sheetRows(ordered.sheet, "UTC").map((r) => [r["time"], r["ordered"]])).toEqual([
      ["", "45 g"],
      ["", "45 g"],
    ]);
    expect(rationRows(ordered.rations, "UTC")[0]).toMatchObject({
      gramsPerDay: 90,
      status: "as ordered",
    });
    const summary = rationRows(planned.rations, "UTC");
    expect(summary.map((r) => [r["gramsPerDay"], r["status"]])).toEqual([
      [600, "suggestion"],
      [null, "suggestion waits: measure or ask first; what is ordered stands"],
    ]);
    const scenarios = scenarioRows(compareRations(study.animals[0]!, { settings, at }).value);
    expect(scenarios.map((r) => r["scenario"])[0]).toBe("as it stands");
    expect(scenarios.find((r) => r["scenario"] === "10 % more")).toMatchObject({
      gramsPerDay: 660,
      moreG: 60,
    });
  });

  it("is plain data", () => {
    expect(JSON.parse(JSON.stringify(planned))).toEqual(planned);
  });
});

describe("the gain to expect for what was eaten", () => {
  it("is close to the gain of animals that make the balance, and low for one that wastes its food", () => {
    // Gain rises and falls over the weeks, a little differently in each animal.
    const gainOn = (a: number, d: number) => 30 + 18 * Math.sin((2 * Math.PI * d) / 19 + a);
    const massOn = (a: number, d: number) => {
      let g = 1800;
      for (let k = 0; k < d; k++) g += gainOn(a, k);
      return g;
    };
    // 300 kcal per kg^0.75 and 4 kcal per g, day by day.
    const feedsOf = (a: number) =>
      Array.from({ length: 35 * 4 }, (_, i) => {
        const d = Math.floor(i / 4);
        const mass = massOn(a, d) + gainOn(a, d) / 2;
        const kcal = 300 * (mass / 1000) ** 0.75 + 4 * gainOn(a, d);
        return { at: start + i * 6 * hour, offeredG: kcal / 1.16 / 4 };
      });
    const animals = Array.from({ length: 8 }, (_, a) =>
      one(`A${a}`, { weighings: dailyMasses(36, (d) => massOn(a, d)), feeds: feedsOf(a) }),
    );
    const wasteful = one("W", {
      weighings: dailyMasses(36, (d) => massOn(2, d) - Math.max(0, d - 28) * 20),
      feeds: feedsOf(2),
    });
    const r = expectedGains([...animals, wasteful], { settings, at: start + 35 * day });
    expect(r.value.balance!.maintenance.value!).toBeGreaterThan(285);
    expect(r.value.balance!.maintenance.value!).toBeLessThan(315);
    const of = (id: string) => r.value.animals.find((x) => x.animalId === id)!.differenceGPerD!;
    for (let a = 0; a < 8; a++) expect(Math.abs(of(`A${a}`))).toBeLessThan(8);
    expect(of("W")).toBeLessThan(-12);
  });
});
