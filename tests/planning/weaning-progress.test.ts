import { describe, expect, it } from "vitest";
import { weaningProgress } from "../../src/planning/weaning-progress.js";
import { intakeByDay } from "../../src/rates/intake-by-day.js";
import {
  clam,
  day,
  feedsEvery,
  formula,
  hour,
  settings,
  smallSeries,
  start,
} from "../rates/small-study.js";

/** Intake with a given share of energy from solids on each day. */
function withShares(shares: readonly number[], refusedG: number | null = 0) {
  const feeds = shares.flatMap((s, d) => {
    const at = start + d * day;
    const solidG = ((s / 100) * 500) / clam.energyKcalPerG;
    const formulaG = ((1 - s / 100) * 500) / formula.energyKcalPerG;
    return [
      { at, offeredG: formulaG },
      { at: at + 4 * hour, offeredG: solidG, dietId: "clam", refusedG },
    ].filter((f) => f.offeredG > 0);
  });
  return intakeByDay(smallSeries({ feeds }), { settings }).value;
}

const sShape = (middle: number, rate: number, n: number) =>
  Array.from({ length: n }, (_, d) => 100 / (1 + Math.exp(-rate * (d - middle))));

describe("weaning", () => {
  it("recovers an S-shaped curve and reads the pace and the days left", () => {
    const r = weaningProgress(withShares(sShape(15, 0.3, 21))).value;
    expect(r.state).toBe("under way");
    expect(r.curve!.middleD).toBeCloseTo(15, 4);
    expect(r.curve!.steepestPctPerDay).toBeCloseTo(7.5, 4);
    expect(r.days[10]!.curvePct).toBeCloseTo(sShape(15, 0.3, 21)[10]!, 3);
    const line = weaningProgress(withShares(Array.from({ length: 20 }, (_, d) => 5 + 3 * d))).value;
    expect(line.pacePctPerDay.value).toBeCloseTo(3, 8);
    // 95 less the mean of 56, 59 and 62, at 3 a day.
    expect(line.daysToWeaned.value).toBeCloseTo((95 - 59) / 3, 6);
  });

  it("knows not begun, weaned, and days without food", () => {
    const milk = intakeByDay(smallSeries({ feeds: feedsEvery(3, start, start + 5 * day) }), {
      settings,
    }).value;
    expect(weaningProgress(milk).value).toMatchObject({ state: "not begun", begunOn: null });
    const done = weaningProgress(withShares([20, 50, 80, 96, 98, 100])).value;
    expect(done).toMatchObject({ state: "weaned", daysToWeaned: { value: 0 } });
    expect(weaningProgress([]).value.state).toBe("not known");
  });

  it("names a stall and since when", () => {
    const rising = Array.from({ length: 10 }, (_, d) => 5 + 4 * d);
    const flat = [46, 45, 44, 45, 46, 45, 44, 45, 46, 45, 45, 44];
    const r = weaningProgress(withShares([...rising, ...flat]));
    expect(r.value.state).toBe("stalled");
    expect(r.value.stalledSince).toBe("2025-05-10");
    expect(r.notices.map((n) => n.code)).toContain("weaning-stalled");
    expect(weaningProgress(withShares(rising)).value.state).toBe("under way");
  });

  it("gives no day of weaning where the share does not rise, and an open end where it may not", () => {
    const falling = weaningProgress(withShares([60, 58, 55, 52, 50, 48, 45])).value;
    expect(falling.daysToWeaned.why?.code).toBe("weaning-no-progress");
    const noisy = weaningProgress(withShares([30, 55, 20, 60, 25, 50, 40, 55])).value;
    expect(noisy.daysToWeaned.interval?.upper).toBeNull();
    expect(weaningProgress(withShares([10, 20])).value.daysToWeaned.why?.code).toBe(
      "weaning-pace-unknown",
    );
  });

  it("keeps an unknown refusal as a range", () => {
    const r = weaningProgress(withShares([10, 20, 30, 40, 50], null));
    expect(r.value.days[2]!.sharePct).toBeNull();
    expect(r.value.days[2]!.low).toBe(0);
    expect(r.value.state).toBe("not known");
    expect(r.notices.map((n) => n.code)).toContain("weaning-share-uncertain");
  });
});
