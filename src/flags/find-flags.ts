import { type Notice, notice } from "../core/notice.js";
import type { Result } from "../core/result.js";
import { type ContemporaryOptions, contemporaries } from "../reference/contemporaries.js";
import { inCareOn } from "../reference/in-care.js";
import { gainZ, weightForAgeZ } from "../reference/z-scores.js";
import type { AnimalSeries, CivilDate, StudySeries } from "../series/animal-series.js";
import { gainSignals, levelSignal } from "./deviation-signals.js";
import type { AnimalDay, NotJudged, Signal } from "./flag.js";
import { lossFromPeak } from "./loss-from-peak.js";

export interface FlagOptions extends Omit<ContemporaryOptions, "onDay"> {
  /** The day looked at; nothing later is read. Default: the last day with a weighing. */
  readonly onDay?: CivilDate;
  readonly limits?: Partial<FlagLimits>;
}

export interface FlagLimits {
  /** z at or below which weight-for-age is raised. */
  readonly levelLow: number;
  readonly gainLow: number;
  readonly gainHigh: number;
  /** Loss from the peak of the last 7 days, %. */
  readonly lossPct: number;
}

export const defaultFlagLimits: FlagLimits = {
  levelLow: -2,
  gainLow: -2,
  gainHigh: 3,
  lossPct: 5,
};

export interface FlagDay {
  readonly onDay: CivilDate;
  /** Every animal in care that day, worst first; then not judged; then not flagged. */
  readonly animals: readonly AnimalDay[];
  readonly counts: {
    readonly flagged: number;
    readonly notFlagged: number;
    readonly notJudged: number;
  };
}

/**
 * Which animals need a second look on one day, and why: weight-for-age and 7-day
 * gain against contemporaries, and loss from the recent peak, each with its
 * evidence. Every animal in care that day appears as flagged, not flagged or not
 * judged. Only data up to that day are read. "Not flagged" does not say that an
 * animal is healthy; nothing here is a diagnosis.
 *
 * @example findFlags(study, { onDay: "2031-05-14" }).value.animals[0]?.status // "flagged"
 */
export function findFlags(
  study: StudySeries,
  options: FlagOptions = {},
): Result<"find-flags", FlagDay> {
  const limits = { ...defaultFlagLimits, ...options.limits };
  const onDay = options.onDay ?? lastWeighedDay(study);
  const inCare = study.animals.filter((a) => inCareOn(a, onDay, study.settings));
  const animals = inCare
    .map((series) => judge(study, series, onDay, limits, options))
    .sort(worstFirst);
  const count = (status: AnimalDay["status"]) => animals.filter((a) => a.status === status).length;
  const { phaseOn, ...shown } = options;
  return {
    kind: "find-flags",
    schema: 1,
    value: {
      onDay,
      animals,
      counts: {
        flagged: count("flagged"),
        notFlagged: count("not flagged"),
        notJudged: count("not judged"),
      },
    },
    method: {
      name: "Deviation from contemporaries and loss from peak",
      options: { ...shown, onDay, limits, phasesKnown: phaseOn !== undefined },
      citations: [],
    },
    basis: { used: inCare.length, leftOut: [], of: "animals in care" },
    diagnostics: {},
    notices: [
      notice("flags-no-diagnosis", "caution"),
      ...(inCare.length === 0 ? [notice("flags-nobody-in-care", "caution", { day: onDay })] : []),
    ],
  };
}

function judge(
  study: StudySeries,
  series: AnimalSeries,
  onDay: CivilDate,
  limits: FlagLimits,
  options: FlagOptions,
): AnimalDay {
  const { animalId, name, species } = series.animal;
  const phase = options.phaseOn?.(animalId, onDay) ?? null;
  const group = contemporaries(study, animalId, { ...options, onDay });
  const outcomes: (Signal | NotJudged)[] = [
    levelSignal(animalId, weightForAgeZ(group, series.age), { low: limits.levelLow }),
  ];
  if (phase === "arrival") {
    const why = notice("flag-phase-arrival", "info", { animal: animalId });
    outcomes.push({ kind: "gain", why }, { kind: "too-fast gain", why });
  } else {
    outcomes.push(
      ...gainSignals(animalId, gainZ(group), { low: limits.gainLow, high: limits.gainHigh }),
    );
  }
  if (phase === "post-weaning fast") {
    outcomes.push({
      kind: "loss from peak",
      why: notice("flag-phase-fast", "info", { animal: animalId }),
    });
  } else {
    outcomes.push(lossFromPeak(series, onDay, { limitPct: limits.lossPct }));
  }
  return assemble(animalId, name, species, onDay, phase, outcomes);
}

function assemble(
  animalId: string,
  name: string | null,
  species: string,
  day: CivilDate,
  phase: string | null,
  outcomes: readonly (Signal | NotJudged)[],
): AnimalDay {
  const signals = outcomes.filter((o): o is Signal => "raised" in o);
  const raised = signals.filter((s) => s.raised).sort((a, b) => weight(b) - weight(a));
  const notJudged = outcomes.filter((o): o is NotJudged => !("raised" in o));
  const status = raised.length > 0 ? "flagged" : signals.length > 0 ? "not flagged" : "not judged";
  const sentence: Notice =
    status === "flagged"
      ? notice("flag-day-flagged", "problem", {
          animal: animalId,
          signals: raised.map((s) => s.kind),
        })
      : status === "not flagged"
        ? notice("flag-day-not-flagged", "info", {
            animal: animalId,
            judged: signals.map((s) => s.kind),
            not: notJudged.map((s) => s.kind),
          })
        : notice("flag-day-not-judged", "caution", { animal: animalId });
  return {
    animalId,
    name,
    species,
    day,
    phase,
    status,
    severity: raised.reduce((most, s) => Math.max(most, weight(s)), 0),
    raised,
    within: signals.filter((s) => !s.raised),
    notJudged,
    sentence,
  };
}

/** Dangers stand above everything else; then the strength decides. */
function weight(signal: Signal): number {
  return signal.strength + (signal.class === "danger" ? 1000 : 0);
}

const order = { flagged: 0, "not judged": 1, "not flagged": 2 };

function worstFirst(a: AnimalDay, b: AnimalDay): number {
  return (
    order[a.status] - order[b.status] ||
    b.severity - a.severity ||
    (a.animalId < b.animalId ? -1 : a.animalId > b.animalId ? 1 : 0)
  );
}

function lastWeighedDay(study: StudySeries): CivilDate {
  const days = study.animals.flatMap((a) => a.daily.at(-1)?.feedingDay ?? []);
  return days.sort().at(-1) ?? "0000-01-01";
}
