import { describe, expect, it } from "vitest";
import { feedingRhythm } from "../../src/rates/feeding-rhythm.js";
import { phaseAt, phasesOf } from "../../src/rates/phases-of.js";
import { dailyMasses, day, feedsEvery, hour, settings, smallSeries, start } from "./small-study.js";

const phaseNames = (s: ReturnType<typeof smallSeries>, more = {}) =>
  phasesOf(s, { settings, ...more }).value.phases.map((p) => [p.phase, (p.from - start) / day]);

describe("phases", () => {
  const dip = dailyMasses(40, (d) => (d < 3 ? 2000 - 40 * d : 1900 + 30 * (d - 3)));
  const milk = (to: number) => feedsEvery(3, start, start + to * day);

  it("run arrival, milk, mixed, solids by the stated rules", () => {
    const mixed = feedsEvery(6, start + 20 * day, start + 30 * day).flatMap((f) => [
      f,
      { ...f, at: f.at + 3 * hour, dietId: "clam" },
    ]);
    const solids = feedsEvery(6, start + 30 * day, start + 39 * day, { dietId: "clam" });
    const series = smallSeries({ weighings: dip, feeds: [...milk(20), ...mixed, ...solids] });
    const names = phaseNames(series);
    expect(names.map((n) => n[0])).toEqual(["arrival", "milk", "mixed", "solids"]);
    // Mass is back at 2000 g on day 6.33; the smoothed line crosses near there.
    expect(names[1]![1]).toBeGreaterThanOrEqual(5);
    expect(names[1]![1]).toBeLessThanOrEqual(7);
    expect(names[2]![1]).toBeCloseTo(20.125, 10);
    // Solids only on the feeding days that begin on day 30, 31 and 32.
    expect(names[3]![1]).toBe(33);
    const { phases } = phasesOf(series, { settings }).value;
    expect(phaseAt(phases, start + 25 * day)?.phase).toBe("mixed");
    expect(phaseAt(phases, start - day)).toBeNull();
    phases.forEach((p, i) => {
      expect(p.to).toBe(phases[i + 1]?.from ?? null);
    });
  });

  it("end arrival on day 7 at the latest", () => {
    const never = dailyMasses(15, (d) => 2000 - 20 * d);
    const series = smallSeries({ weighings: never, feeds: milk(14) });
    expect(phaseNames(series)).toEqual([
      ["arrival", 0],
      ["milk", 7],
    ]);
  });

  it("use nothing recorded after the instant asked about", () => {
    const series = smallSeries({
      weighings: dip,
      feeds: [
        ...milk(20),
        ...feedsEvery(6, start + 20 * day, start + 39 * day, { dietId: "clam" }),
      ],
    });
    const then = phaseNames(series, { endAt: start + 10 * day });
    expect(then.map((n) => n[0])).toEqual(["arrival", "milk"]);
  });

  it("see the fast of a weaned harbour seal, and not in a sea otter", () => {
    const fish = (from: number, to: number, g: number) =>
      feedsEvery(4, start + from * day, start + to * day, {
        dietId: "clam",
        offeredG: 250,
        refusedG: 250 - g,
      });
    const parts = {
      weighings: dailyMasses(50, (d) => 9000 + (d < 26 ? 150 * d : 3900 - 100 * (d - 26))),
      feeds: [...milk(18), ...fish(18, 26, 240), ...fish(26, 40, 20), ...fish(40, 49, 230)],
      animal: { birthDateEarliest: "2025-04-28", birthDateLatest: "2025-04-28" },
    };
    const seal = phaseNames(smallSeries({ ...parts, species: "harbour seal" }));
    expect(seal.map((n) => n[0])).toEqual([
      "arrival",
      "milk",
      "mixed",
      "solids",
      "post-weaning fast",
      "solids",
    ]);
    expect(seal.find((n) => n[0] === "post-weaning fast")![1]).toBe(26);
    expect(seal.at(-1)![1]).toBe(40);
    const otter = phaseNames(smallSeries({ ...parts, species: "sea otter" }));
    expect(otter.map((n) => n[0])).not.toContain("post-weaning fast");
  });
});

describe("feeding rhythm", () => {
  const rhythm = (parts: Parameters<typeof smallSeries>[0], zone = "UTC") =>
    feedingRhythm(smallSeries({ ...parts, settings: { zone } }), {
      settings: { ...settings, zone },
    });

  it("gives intervals by hour and the longest night gap; formula and solid together are one meal", () => {
    const at = (h: number) => start + h * hour;
    const feeds = [0, 2, 4, 6, 8, 10, 12, 14, 16, 20.5, 22, 24].map((h) => ({ at: at(h) }));
    const r = rhythm({ feeds: [...feeds, { at: at(2.2), dietId: "clam" }] }).value;
    expect(r.meals).toBe(12);
    expect(r.medianIntervalH).toBe(2);
    // 22:00 to 02:30.
    expect(r.longestNightGap).toEqual({ from: at(16), to: at(20.5), hours: 4.5 });
    expect(r.byHour[22]).toEqual({ hour: 22, n: 1, medianH: 4.5, longestH: 4.5 });
    expect(r.byHour).toHaveLength(24);
  });

  it("counts a night across the clock change in real hours", () => {
    // 2025-03-09 02:00 becomes 03:00 in St John's; 22:00 to 06:00 is seven hours.
    const feeds = [{ at: Date.UTC(2025, 2, 9, 1, 30) }, { at: Date.UTC(2025, 2, 9, 8, 30) }];
    const animal = { birthDateEarliest: "2025-03-01", birthDateLatest: "2025-03-01" };
    expect(rhythm({ feeds, animal }, "America/St_Johns").value.longestNightGap?.hours).toBe(7);
  });

  it("names late and missed feeds against planned times", () => {
    const plans = [
      {
        from: start - day,
        feedTimes: ["06:00", "09:00", "12:00", "15:00", "18:00", "21:00", "00:00", "03:00"],
      },
    ];
    const given = [0, 3, 6.75, 9, 15, 18, 21, 24, 27, 30];
    const r = rhythm({ plans, feeds: given.map((h) => ({ at: start + h * hour })) }).value
      .againstPlan;
    expect(r.against).toBe("plan");
    expect(r.late).toEqual([
      { expectedAt: start + 6 * hour, givenAt: start + 6.75 * hour, lateMin: 45 },
    ]);
    expect(r.missedAt).toEqual([start + 12 * hour]);
  });

  it("counts whole days short of the planned number", () => {
    const plans = [
      { from: start, to: start + 5 * day, feedsPerDay: 6, dietId: "formula" },
      { from: start, to: start + 5 * day, feedsPerDay: 2, dietId: "clam" },
    ];
    const feeds = feedsEvery(3, start, start + 4 * day).filter(
      (f) => f.at !== start + day + 6 * hour,
    );
    const r = rhythm({ plans, feeds }).value.againstPlan;
    expect(r.shortDays).toEqual([{ feedingDay: "2025-05-02", planned: 8, given: 7 }]);
    expect(r.missedCount).toBe(1);
  });

  it("falls back on the profile's rhythm for the age", () => {
    const feeds = [0, 3, 6, 9.8, 12, 21].map((h) => ({ at: start + h * hour }));
    const r = rhythm({ feeds }).value.againstPlan;
    expect(r.against).toBe("species profile");
    expect(r.lateCount).toBe(1);
    expect(r.missedCount).toBe(2);
    expect(rhythm({ feeds, species: "walrus" }).value.againstPlan.against).toBe("nothing");
  });

  it("allows for the night pause of the harbour seal profile", () => {
    const feeds = [1, 5, 9, 13, 17, 25, 29].map((h) => ({ at: start + h * hour }));
    const r = rhythm({ feeds, species: "harbour seal" }).value.againstPlan;
    expect([r.against, r.lateCount, r.missedCount]).toEqual(["species profile", 0, 0]);
  });

  it("names formula older than its use-by hours; twelve by common practice where none is stated", () => {
    const batches = [
      { batchId: "b1", dietId: "formula", madeAt: start },
      { batchId: "b2", dietId: "formula", madeAt: start, useByH: 24 },
    ];
    const feeds = [
      { at: start + 11 * hour, batchId: "b1" },
      { at: start + 13 * hour, batchId: "b1" },
      { at: start + 14 * hour, batchId: "b2" },
      { at: start + 25 * hour, batchId: "b2" },
      { at: start - hour, batchId: "b2" },
    ];
    const r = rhythm({ feeds, batches });
    expect(r.value.oldFormula.map((f) => [f.ageH, f.useByH, f.limitFrom])).toEqual([
      [13, 12, "common practice"],
      [25, 24, "records"],
    ]);
    expect(r.notices.map((n) => n.code)).toEqual(["rhythm-old-formula", "rhythm-fed-before-made"]);
  });
});
