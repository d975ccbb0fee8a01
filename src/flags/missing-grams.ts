import { type Measured, measuredAbout, notDefined } from "../core/measured.js";
import { type Notice, notice } from "../core/notice.js";
import type { Result } from "../core/result.js";
import { UsageError } from "../core/usage-error.js";
import { type Bounds, between, middleOf } from "../rates/bounds.js";
import { gainOverWindow } from "../rates/gain-over-window.js";
import { type IntakeDay, intakeByDay } from "../rates/intake-by-day.js";
import { keptKnownTo } from "../rates/kept-intake.js";
import { metabolicPower } from "../rates/nutrition-formulas.js";
import { type ContemporaryOptions, contemporaries } from "../reference/contemporaries.js";
import type { AnimalSeries, CivilDate, StudySeries } from "../series/animal-series.js";
import { addDays, daysBetween } from "../units/calendar.js";

/** Why an animal lies behind its contemporaries over a window, in grams. */
export interface MissingGrams {
  readonly animalId: string;
  readonly from: CivilDate;
  readonly to: CivilDate;
  readonly days: number;
  /** Gain expected of an animal of this size among these contemporaries, less its own. */
  readonly missing: Measured;
  /** What keeping as much for its size as they did would have brought, at their gain per kcal. */
  readonly fromIntake: Measured;
  /**
   * The rest: gain different from what was kept for. Conversion, losses, illness,
   * unrecorded feed and wrong diet values are candidates and are never split.
   */
  readonly rest: Measured;
  /** Energy kept, kcal/d: eaten less what came up, a range where that was not weighed. */
  readonly own: { readonly gainG: number; readonly keptKcalPerDay: Bounds | null };
  readonly expected: { readonly gainG: number; readonly keptKcalPerDay: number | null };
  readonly contemporaries: readonly string[];
}

/**
 * Splits the grams an animal is missing against its contemporaries over a window
 * into what the shortfall of intake predicts at the contemporaries' gain per
 * kcal, and a residual. Counterfactuals: expected gain is the contemporaries'
 * mean relative gain times the animal's own mean mass; expected intake is the
 * energy that they kept (eaten less what came up) per kg^0.75 times its own kg^0.75; gain
 * per kcal is the ratio of their sums. Intervals: contemporaries left out one at a time
 * (jackknife), the error of the animal's own gain added; where what came up was not
 * weighed they hold both ends of what it may have kept, and where those lie more than
 * 15 % apart the grams are not split. Illness lowers intake too: a shortfall of intake
 * is not a cause. Animals of earlier seasons, where asked for, serve with as many
 * of their own days, ending at the same age.
 *
 * @example missingGrams(study, "P07", { from: "2031-05-01", to: "2031-05-14" }).value.rest.value // 118 g
 */
export function missingGrams(
  study: StudySeries,
  animalId: string,
  options: { readonly from: CivilDate; readonly to: CivilDate } & Omit<
    ContemporaryOptions,
    "onDay"
  >,
): Result<"missing-grams", MissingGrams> {
  const { from, to } = options;
  const days = daysBetween(from, to);
  requireDays(days, from, to);
  const group = contemporaries(study, animalId, { ...options, onDay: to });
  const own = windowOf(study, study.animals.find((a) => a.animal.animalId === animalId)!, from, to);
  const others = group.members.flatMap((m) => {
    const series = study.animals.find((a) => a.animal.animalId === m.animalId)!;
    // An animal of an earlier season serves with its own days at the same age.
    const end = m.when === "in care" ? to : m.feedingDay;
    const w = windowOf(study, series, addDays(end, -days), end);
    return w === null ? [] : [{ id: m.animalId, ...w }];
  });
  const split =
    own === null || others.length < 3
      ? noSplit(notice("missing-grams-few", "caution", { animal: animalId, n: others.length }))
      : splitOf(animalId, own, others, days);
  return {
    kind: "missing-grams",
    schema: 1,
    value: {
      animalId,
      from,
      to,
      days,
      ...split.parts,
      own: { gainG: own?.gainG ?? 0, keptKcalPerDay: own?.kept ?? null },
      expected: split.expected,
      contemporaries: others.map((o) => o.id),
    },
    method: {
      name: "Missing grams against contemporaries, part of the energy kept and residual",
      options: { from, to, level: 0.95 },
      citations: [
        "Efron and Tibshirani (1993) An Introduction to the Bootstrap, chapter 11 (jackknife)",
      ],
    },
    basis: { used: others.length, leftOut: group.leftOut, of: "contemporaries" },
    diagnostics: {},
    notices: [
      notice("missing-grams-reading", "caution"),
      ...group.notices,
      ...(split.why === null ? [] : [split.why]),
    ],
  };
}

function requireDays(days: number, from: CivilDate, to: CivilDate): void {
  if (days >= 5) return;
  throw new UsageError({
    needed: "a window of at least 5 days",
    came: `${from} to ${to}`,
    where: "missingGrams",
    todo: "Choose an earlier first day.",
  });
}

/** The grams, what was expected, and why they could not be told, or not be split. */
interface Split {
  readonly parts: Pick<MissingGrams, "missing" | "fromIntake" | "rest">;
  readonly expected: MissingGrams["expected"];
  readonly why: Notice | null;
}

function noSplit(why: Notice): Split {
  const none = notDefined("g", why);
  return {
    parts: { missing: none, fromIntake: none, rest: none },
    expected: { gainG: 0, keptKcalPerDay: null },
    why,
  };
}

type Window = NonNullable<ReturnType<typeof windowOf>>;

/** Kept by another animal, kcal/d: the middle of what is known to within 15 %. */
const theirs = (o: Window) => middleOf(o.kept!)!;

/** Kept by them for their size, kcal/kg^0.75 a day: the mean. */
const keptForSize = (fed: readonly Window[]) =>
  fed.reduce((s, o) => s + theirs(o) / (o.massG / 1000) ** metabolicPower, 0) / fed.length;

function splitOf(animalId: string, own: Window, others: readonly Window[], days: number): Split {
  const fed = others.filter((o) => o.kept !== null);
  const size = (own.massG / 1000) ** metabolicPower;
  const expectedGain = (set: readonly Window[]) =>
    (set.reduce((s, o) => s + o.relative, 0) / set.length) * own.massG * days;
  const intakePart = (set: readonly Window[]): number | null => {
    const known = set.filter((o) => o.kept !== null);
    if (own.kept === null || known.length < 3) return null;
    const kcal = known.reduce((s, o) => s + theirs(o) * days, 0);
    const gained = known.reduce((s, o) => s + o.gainG, 0);
    return (keptForSize(known) * size - middleOf(own.kept)!) * days * (gained / kcal);
  };
  const jack = (f: (set: readonly Window[]) => number | null) => jackknife(others, f);
  const total = expectedGain(others) - own.gainG;
  const seTotal = Math.hypot(jack(expectedGain), own.gainSe);
  const missing = measuredAbout(total, "g", seTotal, { n: others.length });
  const expected = {
    gainG: expectedGain(others),
    keptKcalPerDay: fed.length < 3 ? null : keptForSize(fed) * size,
  };
  const eaten = intakePart(others);
  if (eaten === null) {
    const why = notice("missing-grams-no-intake", "caution", { animal: animalId, n: fed.length });
    const none = notDefined("g", why);
    return { parts: { missing, fromIntake: none, rest: none }, expected, why };
  }
  const restOf = (set: readonly Window[]) => {
    const part = intakePart(set);
    return part === null ? null : expectedGain(set) - part;
  };
  // Half of what its own range is worth, in grams.
  const { low, high } = own.kept!;
  const half =
    high === low
      ? 0
      : ((high! - low) / 2) *
        days *
        (fed.reduce((s, o) => s + o.gainG, 0) / fed.reduce((s, o) => s + theirs(o) * days, 0));
  const restSe = Math.hypot(jack(restOf), own.gainSe);
  return {
    parts: {
      missing,
      fromIntake: measuredAbout(eaten, "g", jack(intakePart), { n: fed.length, half }),
      rest: measuredAbout(total - eaten, "g", restSe, { n: fed.length, half }),
    },
    expected,
    why: null,
  };
}

/** Standard error of a quantity by leaving out one after another; NaN below three values. */
function jackknife<T>(all: readonly T[], f: (set: readonly T[]) => number | null): number {
  const values = all.flatMap((_, i) => f(all.filter((__, k) => k !== i)) ?? []);
  const n = values.length;
  if (n < 3) return Number.NaN;
  const mean = values.reduce((a, b) => a + b, 0) / n;
  return Math.sqrt(((n - 1) / n) * values.reduce((a, b) => a + (b - mean) ** 2, 0));
}

/** Gain, mean mass and mean energy kept of one animal over the window; null without a gain. */
function windowOf(study: StudySeries, series: AnimalSeries, from: CivilDate, to: CivilDate) {
  const rows = series.daily.filter((d) => d.feedingDay >= from && d.feedingDay <= to);
  const days = daysBetween(from, to);
  const gain = gainOverWindow(rows, { days: days + 1, minimumWeighings: 4 });
  if (gain.gain.value === null || gain.relative.value === null) return null;
  const massG = rows.reduce((s, r) => s + r.massG, 0) / rows.length;
  const intake =
    series.feeds.length === 0
      ? []
      : intakeByDay(series, { settings: study.settings, from, to: addDays(to, -1) }).value.filter(
          (d) => d.feeds > 0 && d.kcal.value !== null,
        );
  return {
    massG,
    gainG: gain.gain.value * days,
    gainSe: (gain.gain.se ?? 0) * days,
    relative: gain.relative.value / 100,
    kept: intake.length >= 0.7 * days ? meanKept(intake) : null,
  };
}

/** Mean energy kept, kcal/d; null where what came up leaves it open by more than 15 %. */
function meanKept(days: readonly IntakeDay[]): Bounds | null {
  const low = days.reduce((s, d) => s + d.keptKcal.low, 0) / days.length;
  const high = days.reduce((s, d) => s + d.keptKcal.high!, 0) / days.length;
  return high - low > keptKnownTo * high ? null : between(low, high);
}
