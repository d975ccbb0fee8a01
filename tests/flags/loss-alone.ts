import { seededRandom } from "../../src/core/random.js";
import { animalLevels } from "../../src/flags/levels/animal-levels.js";
import { seriesUpTo } from "../../src/rates/series-up-to.js";
import { day, hour, smallStudySeries, start } from "../rates/small-study.js";

export type Course = "losing 1.8 % a day" | "dips 2 %";

/** First days since admission on which a loss is looked at, and is a danger; null: never. */
export interface LossNamed {
  readonly look: number | null;
  readonly danger: number | null;
}

/**
 * One animal alone, weighed at admission and once a day, dry and before a meal, each
 * reading with independent noise (share of mass): from admission on it loses 1.8 % of
 * what it weighs every day, or it is a healthy arrival that is 2 % down after two days,
 * has regained that on the fifth and then gains 1 % a day. Each day is judged by what
 * was written by then.
 */
export function lossNamed(seed: number, course: Course, noise: number, days = 10): LossNamed {
  const random = seededRandom(seed);
  const mass = (d: number) => {
    if (course === "losing 1.8 % a day") return 2000 * 0.982 ** d;
    if (d <= 2) return 2000 * (1 - 0.01 * d);
    return d <= 5 ? 1960 + (40 / 3) * (d - 2) : 2000 * 1.01 ** (d - 5);
  };
  const weighings = Array.from(
    { length: days + 1 },
    (_, d) =>
      [start + d * day + 2 * hour, Math.round(mass(d) * (1 + noise * random.normal()))] as const,
  );
  let look: number | null = null;
  let danger: number | null = null;
  for (let d = 1; d <= days && danger === null; d++) {
    const series = smallStudySeries({
      animal: { admittedAt: start + hour },
      weighings: weighings.slice(0, d + 1),
    });
    const at = start + d * day + 3 * hour;
    const own = { ...series, animals: series.animals.map((a) => seriesUpTo(a, at)) };
    const found = animalLevels(own, { at })[0]!.reasons.find((r) => r.what === "loss");
    if (found === undefined) continue;
    look ??= d;
    if (found.level === "danger") danger = d;
  }
  return { look, danger };
}

/** Share of animals named by a day. */
export function namedBy(all: readonly LossNamed[], level: "look" | "danger", by: number): number {
  return all.filter((one) => (one[level] ?? Number.POSITIVE_INFINITY) <= by).length / all.length;
}
