import type { AnimalSeries, DailyMass } from "../series/animal-series.js";
import { serialGrid, serialLikelihood } from "../stats/linear-model/serial-line.js";
import { dayMs } from "../units/day-ms.js";

/**
 * What stretches of weighings say about how much the errors of neighbouring days
 * hang together (gut fill, a drifting habit): the summed log-likelihood of each
 * day-to-day correlation.
 */
export interface SerialEvidence {
  /** Day-to-day correlations, 0 to 0.9. */
  readonly correlations: readonly number[];
  readonly logLikelihood: readonly number[];
  /** Stretches and weighings behind it. */
  readonly stretches: number;
  readonly weighings: number;
}

/** A stretch of one animal and what it says. */
export interface SerialStretch {
  readonly to: number;
  readonly weighings: number;
  readonly logLikelihood: readonly number[];
}

export interface SerialEvidenceOptions {
  /** Only stretches that end at or before this instant. Default: all. */
  readonly before?: number;
}

/** Days of one stretch, fewest weighed days in it, and days after admission left out. */
const stretchDays = 14;
const fewestWeighings = 8;
const arrivalDays = 7;

/**
 * The evidence of one or more animals together: every 14 days of daily masses
 * with at least eight weighed days, each with its own parabola and its own
 * spread, from the eighth day of care on (what is regained after arrival bends
 * too much). One animal's first weeks say little; take the animals weighed on
 * the same scales together.
 *
 * @example serialEvidence(animals, { before }).stretches // 34
 */
export function serialEvidence(
  animals: readonly Pick<AnimalSeries, "daily">[],
  options: SerialEvidenceOptions = {},
): SerialEvidence {
  const before = options.before ?? Number.POSITIVE_INFINITY;
  return sumStretches(
    animals.flatMap((a) => serialStretches(a.daily)).filter((s) => s.to <= before),
  );
}

/** The stretches of one animal, in order of time. */
export function serialStretches(daily: readonly DailyMass[]): readonly SerialStretch[] {
  const rows = daily.filter(
    (d) => d.massG > 0 && (d.sinceAdmissionD === null || d.sinceAdmissionD >= arrivalDays),
  );
  const out: SerialStretch[] = [];
  let i = 0;
  while (i < rows.length) {
    const from = rows[i]!.at;
    let end = i;
    // Half a day of grace: the hour of weighing wanders.
    while (end < rows.length && rows[end]!.at < from + (stretchDays - 0.5) * dayMs) end++;
    const part = rows.slice(i, end);
    const last = part.at(-1)!.at;
    if (part.length >= fewestWeighings && last - from >= (stretchDays / 2) * dayMs) {
      out.push({
        to: last,
        weighings: part.length,
        logLikelihood: serialLikelihood(
          part.map((r) => (r.at - from) / dayMs),
          part.map((r) => r.massG),
        ),
      });
    }
    i = end;
  }
  return out;
}

/** Stretches taken together; none give evidence that says nothing. */
export function sumStretches(stretches: readonly SerialStretch[]): SerialEvidence {
  return {
    correlations: serialGrid,
    logLikelihood: serialGrid.map((_, k) =>
      stretches.reduce((sum, s) => sum + s.logLikelihood[k]!, 0),
    ),
    stretches: stretches.length,
    weighings: stretches.reduce((sum, s) => sum + s.weighings, 0),
  };
}
