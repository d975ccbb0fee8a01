import { type Notice, notice } from "../core/notice.js";
import type { Result } from "../core/result.js";
import type { AnimalSeries, StudySettings } from "../series/animal-series.js";
import { smoothedMassAt } from "../series/smoothed-mass.js";
import { profileOf } from "../species/profile-of.js";
import type { SpeciesProfile } from "../species/species-profile.js";
import { dayMs } from "../units/day-ms.js";
import { type IntakeDay, intakeByDay } from "./intake-by-day.js";
import { findPostWeaningFast } from "./post-weaning-fast.js";
import { seriesUpTo } from "./series-up-to.js";

export type PhaseName =
  | "arrival"
  | "milk"
  | "mixed"
  | "solids"
  | "post-weaning fast"
  /** Of a species without a profile, no formula on record: nothing says that it is on milk. */
  | "after arrival";

/** One phase, `[from, to)`; `to` is null while it lasts. */
export interface Phase {
  readonly phase: PhaseName;
  readonly from: number;
  readonly to: number | null;
  /** What began it. */
  readonly why: Notice;
}

export interface AnimalPhases {
  readonly phases: readonly Phase[];
  /** Moult where recorded as milestones; lies over the phases. */
  readonly moult: { readonly from: number; readonly to: number | null } | null;
}

export interface PhaseOptions {
  readonly settings: Pick<StudySettings, "zone" | "feedingDayStartHour" | "speciesOverrides">;
  readonly profile?: SpeciesProfile;
  /** Only data up to this instant are looked at. Default: all. */
  readonly endAt?: number;
  /** Longest arrival phase, days. Default 7. */
  readonly longestArrivalD?: number;
  /** Share of energy from solids at which a day counts as solids only, %. Default 95. */
  readonly solidsOnlyPct?: number;
  /** Feeding days in a row at that share that end the mixed phase. Default 3. */
  readonly solidsOnlyDays?: number;
  /** Already computed intake of this animal, to save doing it twice. */
  readonly intake?: readonly IntakeDay[];
}

/**
 * The phases of one animal in care. Arrival ends when the smoothed mass regains
 * the admission mass, at the latest on day 7; milk ends at the first solid
 * eaten; mixed ends after 3 feeding days with at least 95 % of energy from
 * solids; then solids. In species that fast after weaning, the fast. A species
 * without a profile is on milk only where formula was fed to it, and in a phase of
 * arrival only where it weighed less after it came. Early gain
 * after rehydration is not growth, and loss in the fast is expected: later
 * rooms ask here first.
 *
 * @example phasesOf(otter, { settings }).value.phases.map((p) => p.phase) // ["arrival", "milk", "mixed", "solids"]
 */
export function phasesOf(
  series: AnimalSeries,
  options: PhaseOptions,
): Result<"phases-of", AnimalPhases> {
  const o = {
    longestArrivalD: options.longestArrivalD ?? 7,
    solidsOnlyPct: options.solidsOnlyPct ?? 95,
    solidsOnlyDays: options.solidsOnlyDays ?? 3,
    endAt: options.endAt ?? null,
  };
  const profile =
    options.profile ?? profileOf(series.animal.species, options.settings.speciesOverrides);
  const past = o.endAt === null ? series : seriesUpTo(series, o.endAt);
  const intake = (options.intake ?? intakeByDay(past, { settings: options.settings }).value).filter(
    (d) => o.endAt === null || d.from <= o.endAt,
  );
  const start = past.animal.admittedAt ?? past.span?.from ?? null;
  const end = o.endAt ?? past.span?.to ?? null;
  const phases: Phase[] = [];
  if (start !== null && end !== null && start <= end) {
    const arrivalEnd = endOfArrival(past, start, o.longestArrivalD);
    const firstSolid = firstSolidAt(past);
    const onMilk = !profile.isTemplate || past.feeds.some((f) => f.composition?.kind === "formula");
    const solidsOnly = endOfMixed(intake, o.solidsOnlyPct, o.solidsOnlyDays);
    const arrived = profile.isTemplate && !lostAfterCame(past, arrivalEnd.at);
    const from = arrived ? start : arrivalEnd.at;
    const steps: Phase[] = arrived
      ? []
      : [{ phase: "arrival", from: start, to: null, why: notice("phase-arrival", "info", {}) }];
    const species = { species: past.animal.species };
    steps.push(
      onMilk
        ? { phase: "milk", from, to: null, why: arrivalEnd.why }
        : {
            phase: "after arrival",
            from,
            to: null,
            why: notice("phase-after-arrival", "info", species),
          },
    );
    if (firstSolid !== null) {
      const from = Math.max(firstSolid, arrivalEnd.at);
      const why = notice("phase-mixed", "info", { at: firstSolid });
      steps.push({ phase: "mixed", from, to: null, why });
    }
    if (firstSolid !== null && solidsOnly !== null) {
      const from = Math.max(solidsOnly, arrivalEnd.at);
      const why = notice("phase-solids", "info", { days: o.solidsOnlyDays, pct: o.solidsOnlyPct });
      steps.push({ phase: "solids", from, to: null, why });
    }
    const fast =
      profile.postWeaningFast === null ? null : findPostWeaningFast(past, intake, profile);
    phases.push(...withFast(closeUp(steps, end), fast));
  }
  return {
    kind: "phases-of",
    schema: 1,
    value: { phases, moult: moultOf(past) },
    method: {
      name: "Phases in care by stated rules",
      options: { ...o, species: profile.species },
      citations: [],
    },
    basis: { used: intake.length, leftOut: [], of: "feeding days" },
    diagnostics: {},
    notices: [],
  };
}

/** The phase at an instant, or null outside care. @example phaseAt(phases, at)?.phase // "milk" */
export function phaseAt(phases: readonly Phase[], at: number): Phase | null {
  return phases.find((p) => at >= p.from && (p.to === null || at < p.to)) ?? null;
}

function endOfArrival(series: AnimalSeries, start: number, longestD: number) {
  const latest = start + longestD * dayMs;
  const [first, ...later] = series.daily;
  for (const row of later) {
    if (row.at > latest) break;
    const smooth = smoothedMassAt(series, row.at).value;
    if (smooth !== null && smooth >= first!.massG) {
      const why = notice("phase-milk-regained", "info", { admission: first!.massG, smooth });
      return { at: Math.max(row.at, start), why };
    }
  }
  return { at: latest, why: notice("phase-milk-latest", "info", { days: longestD }) };
}

/** Whether a weighing of its first days was below the one it came with. */
function lostAfterCame(series: AnimalSeries, until: number): boolean {
  const first = series.daily[0];
  return first !== undefined && series.daily.some((d) => d.at <= until && d.massG < first.massG);
}

function firstSolidAt(series: AnimalSeries): number | null {
  const feed = series.feeds.find((f) => f.composition?.kind === "solid" && f.eatenLowG > 0);
  return feed?.at ?? null;
}

function endOfMixed(intake: readonly IntakeDay[], pct: number, needed: number): number | null {
  let run = 0;
  for (const day of intake) {
    const share = day.solidsEnergyPct ?? day.solidsMassPct;
    // A day without food neither proves nor breaks the run.
    if (share === null) continue;
    run = share.low >= pct && day.solidsG.low > 0 ? run + 1 : 0;
    if (run === needed) return day.to;
  }
  return null;
}

/** Gives each phase the next one's begin as its end and drops those without length. */
function closeUp(steps: readonly Phase[], end: number): Phase[] {
  return steps
    .map((p, i) => ({ ...p, to: steps[i + 1]?.from ?? null }))
    .filter((p) => p.from <= end && (p.to === null || p.to > p.from))
    .map((p) => (p.to !== null && p.to > end ? { ...p, to: null } : p));
}

function withFast(
  phases: readonly Phase[],
  fast: { from: number; to: number | null; why: Notice } | null,
): Phase[] {
  if (fast === null) return [...phases];
  const end = fast.to ?? Number.POSITIVE_INFINITY;
  const before = phases
    .filter((p) => p.from < fast.from)
    .map((p) => ({ ...p, to: Math.min(p.to ?? fast.from, fast.from) }));
  const after = phases
    .filter((p) => (p.to ?? Number.POSITIVE_INFINITY) > end)
    .map((p) => ({ ...p, from: Math.max(p.from, end) }));
  return [...before, { phase: "post-weaning fast", ...fast }, ...after];
}

function moultOf(series: AnimalSeries): AnimalPhases["moult"] {
  const seen = series.signs.filter(
    (s) => s.kind === "milestone" && s.state !== "none" && !/\bnot?\b/i.test(s.written),
  );
  const begin = seen.find((s) => /moult|molt/i.test(s.written) && !/end|complete/i.test(s.written));
  if (begin === undefined) return null;
  const end = seen.find(
    (s) => s.at > begin.at && /(moult|molt|pelage|fur|coat).*(end|complete)/i.test(s.written),
  );
  return { from: begin.at, to: end?.at ?? null };
}
