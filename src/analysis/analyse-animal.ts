import { lazily } from "../core/lazily.js";
import type { AnimalDay } from "../flags/animal-day/flag.js";
import { defaultLevelLimits } from "../flags/levels/level-limits.js";
import { limitsOfStudy } from "../flags/levels/limits-of-study.js";
import { compareFits } from "../growth/compare-fits.js";
import type { CurveName } from "../growth/curve-catalogue.js";
import { type CurveFit, fitCurve } from "../growth/fit-curve.js";
import { dailyGains } from "../rates/daily-gains.js";
import type { EnergyChoice } from "../rates/energy-of.js";
import { feedConversion } from "../rates/feed-conversion.js";
import { firstWeek } from "../rates/first-week.js";
import { gainBetween } from "../rates/gain-between.js";
import { gainOverWindow } from "../rates/gain-over-window.js";
import { keptIntake } from "../rates/kept-intake.js";
import { limitSource } from "../rates/limit-source.js";
import { meanIntake } from "../rates/mean-intake.js";
import { phasesOf } from "../rates/phases-of.js";
import { type SerialStretch, sumStretches } from "../rates/serial-evidence.js";
import { signAlerts } from "../rates/sign-alerts.js";
import { inCareOn, outsideStay } from "../reference/in-care.js";
import type { AnimalSeries, CivilDate, StudySettings } from "../series/animal-series.js";
import { smoothedMassAt } from "../series/smoothed-mass.js";
import { profileOf } from "../species/profile-of.js";
import { dayMs } from "../units/day-ms.js";
import { curvePoints } from "./curve-points.js";
import { curveTrace } from "./curve-trace.js";
import type { AnimalAnalysis } from "./study-analysis.js";

export interface AnimalOptions {
  readonly onDay: CivilDate;
  readonly gainDays: number;
  readonly conversionDays: number;
  readonly curves: readonly CurveName[];
  readonly energy: EnergyChoice;
  /** Stretches of weighings of the species, this animal's own included. */
  readonly stretches: readonly SerialStretch[];
}

/**
 * Gain, intake, conversion, phases and curves of one animal; the flags of the
 * day, which look at all animals together, and the intake they too read are handed in.
 */
export function analyseAnimal(
  series: AnimalSeries,
  settings: StudySettings,
  intake: AnimalAnalysis["intake"],
  day: AnimalDay | null,
  options: AnimalOptions,
): AnimalAnalysis {
  const { energy } = options;
  const { limits } = limitsOfStudy(settings);
  const phases = phasesOf(series, { settings, intake: intake.value }).value.phases;
  const first = series.daily[0] ?? null;
  const last = series.daily.at(-1) ?? null;
  // How much weighings of neighbouring days err alike, told by the species' weighings before the window.
  const knownBefore = (days: number) => {
    const from = (last?.at ?? 0) - days * dayMs;
    return sumStretches(options.stretches.filter((s) => s.to <= from));
  };
  const points = curvePoints(series, phases);
  const fits = options.curves.map((curve) =>
    fitCurve({ ages: points.ages, masses: points.masses }, { curve }),
  );
  const recent = gainOverWindow(series.daily, {
    days: options.gainDays,
    errors: "serial",
    evidence: knownBefore(options.gainDays),
  });
  return {
    animalId: series.animal.animalId,
    name: series.animal.name,
    species: series.animal.species,
    season: series.animal.season,
    inCare: inCareOn(series, options.onDay, settings),
    outsideStay: outsideStay(series, options.onDay, settings),
    series,
    phases,
    phase: phases.at(-1)?.phase ?? null,
    first,
    last,
    smoothedMass: smoothedMassAt(series, last?.at ?? 0),
    // First in order, so that it is written as it always was.
    gain: Object.assign(
      lazily({}, "daily", () =>
        dailyGains(series, { days: options.gainDays }).map((row, i, rows) =>
          // The newest gain is one number, with one interval, on every page.
          i === rows.length - 1 ? { ...row, overWindow: recent } : row,
        ),
      ),
      {
        recent,
        overall:
          first !== null && last !== null && last.at > first.at ? gainBetween(first, last) : null,
      },
    ),
    intake,
    recentIntake: meanIntake(intake.value),
    conversion: feedConversion(series, {
      days: options.conversionDays,
      energy,
      evidence: knownBefore(options.conversionDays),
    }),
    curves: fits.map((fit) => ({
      fit,
      trace: curveTrace(fit),
      finalOverLargest: finalOverLargest(fit),
    })),
    curveChoice: compareFits(fits),
    z: null,
    kept: keptIntake(series, (series.span?.to ?? 0) - dayMs, series.span?.to ?? 0),
    firstWeek: firstWeek(series, {
      at: series.span?.to ?? series.animal.admittedAt ?? 0,
      profile: profileOf(series.animal.species, settings.speciesOverrides),
      loss: {
        look: limits.lossPct,
        danger: limits.acuteLossPct,
        source: limitSource(limits, defaultLevelLimits, ["lossPct", "acuteLossPct"]),
      },
      limits,
    }),
    alerts: signAlerts(series.signs, limits),
    slow: null,
    day,
    notices: [...series.notices, ...points.notices],
  };
}

/** Final mass over the largest mass of the fit: how far the curve reaches beyond its data. */
function finalOverLargest(fit: CurveFit): number | null {
  const { value } = fit;
  const final = value.estimates.find((p) => p.name === "A" && p.kind === "mass")?.estimate.value;
  if (value.asymptoteIdentified === null || final === undefined || final === null) return null;
  const largest = value.points.masses.reduce((a, b) => Math.max(a, b), 0);
  return largest > 0 ? final / largest : null;
}
