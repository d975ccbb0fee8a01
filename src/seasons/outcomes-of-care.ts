import { type Measured, measured } from "../core/measured.js";
import type { AnimalSeries, StudySeries } from "../series/animal-series.js";
import { isDeath } from "../series/is-death.js";
import { normalQuantile } from "../stats/distributions/normal.js";
import { competingRisks } from "../stats/survival/competing-risks.js";
import { feedingDaySpan } from "../units/calendar.js";
import { dayMs } from "../units/day-ms.js";

/** What became of the animals of one species and season. */
export interface SeasonOutcomes {
  readonly species: string;
  readonly season: string | null;
  readonly admitted: number;
  /** How many have each outcome; "not written" where none stands. */
  readonly outcomes: Readonly<Record<string, number>>;
}

/** Share of a species that had died in care by so many days after admission, %. */
export interface DeathsByDay {
  readonly species: string;
  readonly day: number;
  /** Still in care, and watched, on that day. */
  readonly atRisk: number;
  readonly died: Measured;
}

export interface OutcomesOfCare {
  readonly seasons: readonly SeasonOutcomes[];
  readonly deaths: readonly DeathsByDay[];
  /** Left out of the shares: no day of admission. */
  readonly undated: number;
}

const days = [7, 30, 90] as const;

/**
 * Survival in care: outcomes by species and season, and the share that had died by
 * 7, 30 and 90 days after admission. Leaving alive competes with dying, animals
 * still in care are watched up to `end` (Aalen and Johansen 1978); 95 % intervals
 * on the scale of log(-log), without a death the exact one-sided 97.5 % bound of
 * those still watched.
 *
 * @param end the instant up to which the records go.
 * @example outcomesOfCare(series, end).deaths[0].died.value // 4.5
 */
export function outcomesOfCare(study: StudySeries, end: number): OutcomesOfCare {
  const kinds = [...new Set(study.animals.map((a) => a.animal.species))].sort();
  const seasonsOf = (species: string) =>
    [
      ...new Set(
        study.animals.filter((a) => a.animal.species === species).map((a) => a.animal.season),
      ),
    ].sort((a, b) => (a === null ? 1 : b === null ? -1 : a < b ? -1 : 1));
  const dated = study.animals.filter((a) => a.animal.admittedAt !== null);
  return {
    seasons: kinds.flatMap((species) =>
      seasonsOf(species).map((season) => {
        const own = study.animals.filter(
          ({ animal }) => animal.species === species && animal.season === season,
        );
        const outcomes: Record<string, number> = {};
        for (const { animal } of own) {
          const outcome = animal.outcome ?? "not written";
          outcomes[outcome] = (outcomes[outcome] ?? 0) + 1;
        }
        return { species, season, admitted: own.length, outcomes };
      }),
    ),
    deaths: kinds.flatMap((species) =>
      deathsOf(
        species,
        dated
          .filter((a) => a.animal.species === species)
          .map((a) => stayOf(a, study, end))
          .filter((s) => s.time > 0),
      ),
    ),
    undated: study.animals.length - dated.length,
  };
}

interface Stay {
  /** Days from admission to the outcome, else to the end of the records. */
  readonly time: number;
  readonly how: "died" | "left" | null;
}

function stayOf({ animal }: AnimalSeries, { settings }: StudySeries, end: number): Stay {
  const from = animal.admittedAt!;
  const { outcome, outcomeDate } = animal;
  const gone = outcome !== null && outcome !== "in care" && outcomeDate !== null;
  const last = gone
    ? feedingDaySpan(outcomeDate, settings.zone, settings.feedingDayStartHour).from
    : end;
  // An outcome on the day of admission came after it.
  const time = Math.max((last - from) / dayMs, gone ? 0.1 : 0);
  return { time, how: !gone ? null : isDeath(outcome) ? "died" : "left" };
}

function deathsOf(species: string, stays: readonly Stay[]): DeathsByDay[] {
  if (stays.length === 0) return [];
  const { steps } = competingRisks(
    stays.map((s) => s.time),
    stays.map((s) => s.how),
    ["died", "left"],
  );
  return days.map((day) => {
    const step = steps.filter((s) => s.time <= day).at(-1);
    const atRisk = stays.filter((s) => s.time > day).length;
    const share = step?.cumulative[0] ?? 0;
    const died = measured(100 * share, "%", limits(share, step?.se[0] ?? 0, atRisk));
    return { species, day, atRisk, died };
  });
}

const z = normalQuantile(0.975);

function limits(share: number, se: number, atRisk: number) {
  if (share <= 0 || share >= 1 || se <= 0) {
    const upper = share > 0 || atRisk === 0 ? 1 : 1 - 0.025 ** (1 / atRisk);
    return { interval: { level: 0.95, lower: 100 * (share >= 1 ? 1 : 0), upper: 100 * upper } };
  }
  const alive = 1 - share;
  const spread = (z * se) / (alive * -Math.log(alive));
  const at = (power: number) => 100 * (1 - alive ** Math.exp(power));
  return { interval: { level: 0.95, lower: at(-spread), upper: at(spread) } };
}
