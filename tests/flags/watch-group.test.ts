import { describe, expect, it } from "vitest";
import { seededRandom } from "../../src/core/random.js";
import { defaultCalibration } from "../../src/flags/budget/default-calibration.js";
import { thresholdsFor } from "../../src/flags/budget/false-flag-budget.js";
import { type WatchedDay, type WatchState, watchGroup } from "../../src/flags/watch/watch-group.js";
import { designs, simulateCohort } from "../bench/simulated-cohorts.js";

const plain = designs["plain"]!;

describe("watching a group", () => {
  it("does not move when the future does: values, animals and days to come", () => {
    const cohort = simulateCohort(
      { ...designs["everything"]!, animals: 12, days: 50 },
      seededRandom(61),
    );
    const cut = 35;
    const until = (animals: typeof cohort.animals) => {
      const seen: string[] = [];
      watchGroup(animals, 60, {}, (s, state) => {
        if (s.day > cut) return;
        seen.push(
          JSON.stringify([s.animal, s.day, s.statistics, s.surprise, s.change, state.variation]),
        );
      });
      return seen;
    };
    const before = until(cohort.animals);
    const changed = cohort.animals.map((a) => ({
      ...a,
      logMass: a.logMass.map((v, j) => (a.day[j]! > cut ? v - 0.7 : v)),
      knownVariance: a.knownVariance.map((v, j) => (a.day[j]! > cut ? v + 1 : v)),
    }));
    const extra = simulateCohort({ ...plain, animals: 1, days: 30 }, seededRandom(5)).animals[0]!;
    const later = {
      ...extra,
      id: "later",
      day: extra.day.map((d) => d + 40),
      time: extra.time.map((t) => t - 2),
    };
    expect(before.length).toBeGreaterThan(200);
    expect(until([...changed, later])).toEqual(before);
    const shorter: string[] = [];
    watchGroup(cohort.animals, cut, {}, (s, state) => {
      shorter.push(
        JSON.stringify([s.animal, s.day, s.statistics, s.surprise, s.change, state.variation]),
      );
    });
    expect(shorter).toEqual(before);
  });

  it("does not depend on the order of the animals", () => {
    const cohort = simulateCohort({ ...plain, animals: 8, days: 30 }, seededRandom(62));
    const last = (animals: typeof cohort.animals) => {
      const out: Record<string, number> = {};
      watchGroup(animals, 60, {}, (s) => {
        out[animals[s.animal]!.id] = s.statistics["slowed gain"];
      });
      return out;
    };
    const a = last(cohort.animals);
    const b = last(cohort.animals.slice().reverse());
    for (const id of Object.keys(a)) expect(b[id]!).toBeCloseTo(a[id]!, 6);
  });

  it("surprises a healthy group by standard normal amounts", () => {
    // Standard normal by construction; 10 cohorts, seed 63; the standard deviation of about 5,000
    // nearly independent values has a standard error of 1 %.
    const surprises: number[] = [];
    const root = seededRandom(63);
    for (let r = 0; r < 10; r++) {
      const cohort = simulateCohort({ ...plain, animals: 11, days: 50 }, root.split(r));
      watchGroup(cohort.animals, 60, {}, (s) => {
        if (s.index > 10) surprises.push(s.surprise);
      });
    }
    const sd = Math.sqrt(surprises.reduce((a, b) => a + b * b, 0) / surprises.length);
    expect(Math.abs(sd - 1)).toBeLessThan(0.05);
  });

  it("finds a halved gain, tells since when and how much is missing", () => {
    const root = seededRandom(64);
    let found = 0;
    let near = 0;
    let missing = 0;
    for (let r = 0; r < 12; r++) {
      const cohort = simulateCohort(
        { ...plain, animals: 11, days: 45, affected: { animal: 0, fromDay: 21 } },
        root.split(r),
      );
      let last: WatchedDay | null = null;
      watchGroup(cohort.animals, 60, {}, (s) => {
        if (s.animal === 0) last = s;
      });
      const seen = last as unknown as WatchedDay;
      if (seen.statistics["slowed gain"] > thresholdsFor(defaultCalibration, 1, 11)["slowed gain"])
        found++;
      const since = cohort.animals[0]!.day[seen.change!.index]!;
      if (Math.abs(since - cohort.changeDay!) <= 5) near++;
      missing += seen.change!.missing / 12;
    }
    expect(found).toBeGreaterThanOrEqual(11);
    expect(near).toBeGreaterThanOrEqual(9);
    // True share missing is 0.5; mean of 12 animals.
    expect(Math.abs(missing - 0.5)).toBeLessThan(0.15);
  });

  it("is not thrown by one slip of the pen", () => {
    const cohort = simulateCohort({ ...plain, animals: 11, days: 45 }, seededRandom(65));
    const a = cohort.animals[3]!;
    const slipped = cohort.animals.map((x) =>
      x === a ? { ...x, logMass: x.logMass.map((v, j) => (j === 30 ? v - 0.2 : v)) } : x,
    );
    const after: number[] = [];
    const read = (s: WatchedDay, _: WatchState) => {
      if (s.animal === 3 && s.index > 33) after.push(s.statistics["slowed gain"]);
    };
    watchGroup(slipped, 60, {}, read);
    expect(Math.max(...after)).toBeLessThan(2.2);
  });
});

describe("days that say nothing of gain", () => {
  it("cut a course in two: a loss in a fast is neither a surprise nor a slowdown after it", () => {
    const cohort = simulateCohort({ ...plain, animals: 8, days: 50 }, seededRandom(69));
    // Twelve days away, back 8 % lighter than the line would have it.
    const fasted = cohort.animals.map((a) => {
      const keep = [...a.day.keys()].filter((j) => {
        const d = a.day[j]! - a.day[0]!;
        return d < 20 || d >= 32;
      });
      const after = (j: number) => a.day[j]! - a.day[0]! >= 32;
      const first = keep.find(after);
      return {
        ...a,
        time: Float64Array.from(keep, (j) => a.time[j]!),
        day: Int32Array.from(keep, (j) => a.day[j]!),
        logMass: Float64Array.from(keep, (j) => a.logMass[j]! - (after(j) ? 0.18 : 0)),
        knownVariance: Float64Array.from(keep, (j) => a.knownVariance[j]!),
        serves: new Uint8Array(keep.length).fill(1),
        anew: Uint8Array.from(keep, (j) => (j === first ? 1 : 0)),
      };
    });
    const most = (animals: typeof fasted) => {
      let strongest = 0;
      let surprise = 0;
      watchGroup(animals, 60, {}, (s) => {
        strongest = Math.max(strongest, s.statistics["slowed gain"] || 0);
        if (!Number.isNaN(s.surprise)) surprise = Math.min(surprise, s.surprise);
      });
      return { strongest, surprise };
    };
    const threshold = thresholdsFor(defaultCalibration, 1, 8)["slowed gain"];
    expect(most(fasted).strongest).toBeLessThan(threshold);
    expect(most(fasted).surprise).toBeGreaterThan(-5);
    // Without the mark the loss of those days would be taken for a slowdown.
    const unmarked = fasted.map((a) => ({ ...a, anew: new Uint8Array(a.day.length) }));
    expect(most(unmarked).strongest).toBeGreaterThan(threshold);
  });
});

describe("the budget of false flags", () => {
  it("interpolates between calibrated budgets and sizes and refuses others", () => {
    const slow = (budget: number) => thresholdsFor(defaultCalibration, budget, 11)["slowed gain"];
    expect(slow(3)).toBeLessThan(slow(2));
    expect(slow(3)).toBeGreaterThan(slow(5));
    expect(thresholdsFor(defaultCalibration, 2, 40)).toEqual(
      thresholdsFor(defaultCalibration, 2, 26),
    );
    expect(() => thresholdsFor(defaultCalibration, 0.01, 11)).toThrow(/between 0.5 and 10/);
  });
});
