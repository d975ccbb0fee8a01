import type { AnimalAnalysis } from "../../analysis/study-analysis.js";
import type { CourseOthers, TimedBand, TimedMass } from "../../charts/animal-course.js";
import { quantiles } from "../../stats/descriptive/quantile.js";
import { dayMs } from "../../units/day-ms.js";

/** With fewer animals than these a centile is one animal's accident: each is drawn. */
const fewest = 8;
/** Over a longer gap nobody knows what an animal weighed. */
const longestGapD = 7;

interface Aged {
  readonly ageD: number;
  readonly value: number;
}

/** Others stand in an animal's picture where its own age is known and was not told from its mass. */
export const othersAreDrawn = (animal: AnimalAnalysis): boolean =>
  animal.last !== null && animal.last.ageD !== null && animal.series.age.usableForWeightForAge;

/**
 * What other animals weighed and gained at the age that one animal had on each of
 * its days from `from` to `to`: nine in ten and the middle half of eight and more,
 * else their masses one by one. Null where its own age is not known.
 */
export function courseOthers(
  animal: AnimalAnalysis,
  others: readonly AnimalAnalysis[],
  shown: { readonly from: number; readonly to: number; readonly are: (n: number) => string },
): CourseOthers | null {
  if (!othersAreDrawn(animal)) return null;
  const last = animal.last!;
  const ageAt = (at: number) => last.ageD! + (at - last.at) / dayMs;
  const aged = others.filter((a) => a !== animal && a.series.age.usableForWeightForAge);
  const masses = aged.map((a) =>
    a.series.daily.flatMap((d): Aged[] =>
      d.ageD === null ? [] : [{ ageD: d.ageD, value: d.massG }],
    ),
  );
  const gains = aged.map((a) =>
    a.gain.daily.flatMap((d): Aged[] => {
      const { value } = d.overWindow.gain;
      return d.ageD === null || value === null ? [] : [{ ageD: d.ageD, value }];
    }),
  );
  const days: number[] = [];
  for (let at = shown.to; at >= shown.from; at -= dayMs) days.unshift(at);
  const bands = (of: readonly (readonly Aged[])[]) =>
    longestRun(
      days.map((at) =>
        bandOf(
          at,
          of.flatMap((rows) => valueAt(rows, ageAt(at)) ?? []),
        ),
      ),
    );
  const massBands = bands(masses);
  const banded = { from: massBands[0]?.at ?? 0, to: massBands.at(-1)?.at ?? -1 };
  const massDots = days
    .filter((at) => at < banded.from || at > banded.to)
    .flatMap((at) =>
      masses.flatMap((rows): TimedMass[] => {
        const massG = valueAt(rows, ageAt(at));
        return massG === null ? [] : [{ at, massG }];
      }),
    );
  const drawn = masses.filter((rows) => days.some((at) => valueAt(rows, ageAt(at)) !== null));
  return { masses: massBands, massDots, gains: bands(gains), are: shown.are(drawn.length) };
}

function bandOf(at: number, values: readonly number[]): TimedBand | null {
  if (values.length < fewest) return null;
  const [low, lowerQuarter, middle, upperQuarter, high] = quantiles(
    values,
    [0.05, 0.25, 0.5, 0.75, 0.95],
  ) as [number, number, number, number, number];
  return { at, n: values.length, low, lowerQuarter, middle, upperQuarter, high };
}

/** The longest run of days that have a band, so that it has no holes. */
function longestRun(days: readonly (TimedBand | null)[]): readonly TimedBand[] {
  const runs: TimedBand[][] = [[]];
  for (const day of days) {
    if (day !== null) runs.at(-1)!.push(day);
    else if (runs.at(-1)!.length > 0) runs.push([]);
  }
  return runs.reduce((longest, run) => (run.length > longest.length ? run : longest));
}

/** Read off the line between the two values around an age; null where there are none, or too far apart. */
function valueAt(rows: readonly Aged[], ageD: number): number | null {
  const after = rows.findIndex((r) => r.ageD >= ageD);
  const next = rows[after];
  if (next === undefined) return null;
  if (next.ageD === ageD) return next.value;
  const before = rows[after - 1];
  if (before === undefined || next.ageD - before.ageD > longestGapD) return null;
  const share = (ageD - before.ageD) / (next.ageD - before.ageD);
  return before.value + share * (next.value - before.value);
}
