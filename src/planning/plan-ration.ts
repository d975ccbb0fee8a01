import { type Measured, measured, notDefined } from "../core/measured.js";
import { type Notice, notice } from "../core/notice.js";
import type { Result } from "../core/result.js";
import type { EnergyChoice } from "../rates/energy-of.js";
import { type HoldLimits, holdRules } from "../rates/hold-rules.js";
import { type IntakeDay, intakeByDay } from "../rates/intake-by-day.js";
import { phaseAt, phasesOf } from "../rates/phases-of.js";
import { seriesUpTo } from "../rates/series-up-to.js";
import type { AnimalSeries, CivilDate, StudySettings } from "../series/animal-series.js";
import { smoothedMassAt } from "../series/smoothed-mass.js";
import { bandAt } from "../species/age-band.js";
import { profileOf } from "../species/profile-of.js";
import type { SpeciesProfile } from "../species/species-profile.js";
import { addDays, feedingDayOf, feedingDaySpan } from "../units/calendar.js";
import { feedSchedule, spread } from "./feed-schedule.js";
import type { Ration, RationLimit } from "./ration.js";
import {
  feedsOf,
  plansInForce,
  type RationAmount,
  type RationTarget,
  rationAmounts,
} from "./ration-amount.js";
import {
  type EnergyDiet,
  lastDiets,
  planDiets,
  type RationDiet,
  withEnergy,
} from "./ration-diet.js";
import { dealOut, mixDiets, shareOfPct } from "./ration-mix.js";
import { warnBelowDemand, warnOutsideShare } from "./ration-warnings.js";
import { meanEaten, meanOffered, recentSolids } from "./recent-intake.js";

/** Editable limits. A limit no source gives is absent until someone enters it. */
export interface RationLimits {
  /** Most that one feed may be, % of body mass. Default: the species profile's, if it has one. */
  readonly feedPctOfMass?: number;
  /** Steepest rise above the mean offered on the last complete days, %. Default 10 (own choice). */
  readonly risePct?: number | null;
  /** Most water in the day's food, mL per kg. Default: none. */
  readonly waterMlPerKg?: number;
}

export interface RationOptions {
  readonly settings: StudySettings;
  /** The instant at which the ration is made; only data up to it are used. */
  readonly at: number;
  /** The feeding day planned. Default: the one after the day of `at`. */
  readonly feedingDay?: CivilDate;
  readonly profile?: SpeciesProfile;
  readonly target?: RationTarget;
  /** Formula and solid to use. Default: those last given. */
  readonly diets?: readonly RationDiet[];
  /** Share of the energy from solids, %. Default: as eaten over the last complete days. */
  readonly solidsEnergyPct?: number;
  readonly feedsPerDay?: number;
  /** Local clock times "HH:MM". */
  readonly feedTimes?: readonly string[];
  /** Scales the amount before the limits, %. Default 100. */
  readonly scalePct?: number;
  readonly limits?: RationLimits;
  readonly holdLimits?: Partial<HoldLimits>;
  readonly energy?: EnergyChoice;
  /** Intake already computed. */
  readonly intake?: readonly IntakeDay[];
}

const dayMs = 86_400_000;

/**
 * Tomorrow's ration of one animal, to the gram: from its mass, age, species
 * profile, diet and target; number and times of feeds; limits and whether they
 * bind. The day's feeds add up exactly (largest remainder). While any hold rule
 * holds it gives no grams but "hold: ask the veterinarian". How the animal has
 * been gaining plays no part, so a slow gain never raises a ration. Drugs and
 * fluids are never computed. A suggestion to be reviewed with the attending
 * veterinarian before use.
 *
 * Phases: hold and reasons not to compute; amount; diets; limits; feeds.
 *
 * @example planRation(series, { settings, at }).value.feeds[0] // { time: "06:00", dietId: "otter-formula", g: 48, ... }
 */
export function planRation(
  series: AnimalSeries,
  options: RationOptions,
): Result<"plan-ration", Ration> {
  const { settings, at } = options;
  const { zone, feedingDayStartHour: startHour } = settings;
  const profile = options.profile ?? profileOf(series.animal.species, settings.speciesOverrides);
  const feedingDay = options.feedingDay ?? addDays(feedingDayOf(at, zone, startHour), 1);
  const span = feedingDaySpan(feedingDay, zone, startHour);
  const past = seriesUpTo(series, at);
  const mass = smoothedMassAt(past, at, { upTo: at });
  const ageD = series.age.birth === null ? null : (span.from - series.age.birth) / dayMs;
  // Somebody ordered a plan that is in force: it comes first.
  const plans = plansInForce(past, Math.max(at, span.from));
  const ordered = plans.some((p) => (p.gPerFeed ?? 0) * feedsOf(p) > 0);
  const target: RationTarget = options.target ?? { kind: ordered ? "plan" : "profile" };
  const hold = holdRules(past, {
    at,
    settings,
    profile,
    ...(options.holdLimits === undefined ? {} : { limits: options.holdLimits }),
  }).value;
  const intake = (options.intake ?? intakeByDay(past, { settings }).value).filter(
    (d) => d.to <= at,
  );
  const recent = intake.filter((d) => d.feeds > 0).slice(-3);
  const recentEatenG = meanEaten(recent);
  const recentOfferedG = meanOffered(recent);
  const animal = series.animal.animalId;
  const review = notice("ration-review", "caution", {});
  const blank = notDefined("", review);
  const base = {
    animalId: animal,
    name: series.animal.name,
    species: series.animal.species,
    feedingDay,
    holdReasons: hold.reasons,
    massG: mass,
    ageD,
    target,
    recentEatenG,
    recentOfferedG,
  };
  const finish = (value: Ration): Result<"plan-ration", Ration> => ({
    kind: "plan-ration",
    schema: 1,
    value,
    method: {
      name: "Ration from mass, age, profile, diet and target",
      options: {
        at,
        feedingDay,
        target,
        scalePct: options.scalePct ?? 100,
        limits: options.limits ?? {},
        holdLimits: hold.limits,
        energy: options.energy ?? "stated, else general",
        profile: profile.species,
        overridden: profile.overridden.map((entry) => entry.entry),
      },
      citations: [],
    },
    basis: { used: recent.length, leftOut: [], of: "feeding days" },
    diagnostics: {},
    notices: value.notices,
  });
  const without = (status: "hold" | "not computed", notices: readonly Notice[]) =>
    finish({
      ...base,
      status,
      feeds: [],
      parts: [],
      diets: [],
      totalG: null,
      kcal: { ...blank, unit: "kcal/d" },
      shareOfMassPct: { ...blank, unit: "% of body mass/d" },
      kcalPerMetabolicKg: { ...blank, unit: "kcal/kg^0.75/d" },
      waterMlPerKg: { ...blank, unit: "mL/kg/d" },
      proteinG: { ...blank, unit: "g/d" },
      fatG: { ...blank, unit: "g/d" },
      // An amount beside a hold could be read as a ration.
      ...(status === "hold"
        ? { recentEatenG: notDefined("g/d", review), recentOfferedG: notDefined("g/d", review) }
        : {}),
      changePct: null,
      limits: [],
      notices: [...notices, review],
    });

  const { outcome } = series.animal;
  if (outcome !== null && outcome !== "in care" && outcomeBefore(series, span.from, zone)) {
    return without("not computed", [notice("ration-not-in-care", "info", { animal, outcome })]);
  }
  if (hold.hold) {
    const why = hold.reasons.map((r) => r.notice);
    return without("hold", [notice("ration-hold", "problem", { animal }), ...why]);
  }
  const phases = phasesOf(past, { settings, profile, endAt: at, intake }).value.phases;
  if (phaseAt(phases, at)?.phase === "post-weaning fast") {
    return without("not computed", [notice("ration-in-fast", "caution", { animal })]);
  }
  // Holds already ask for a recent weighing; switched off, the mass may be missing.
  if (mass.value === null || !(mass.value > 0)) {
    return without("not computed", [notice("ration-no-mass", "problem", { animal })]);
  }
  const massKg = mass.value / 1000;
  const amounts = rationAmounts(target, massKg, ageD, profile, plans);
  if ("code" in amounts) return without("not computed", [amounts]);

  const energy = options.energy ?? "stated, else general";
  const planned = target.kind === "plan" ? planDiets(past, plans, energy) : null;
  const known = planned?.diets ?? lastDiets(past, at);
  // A share of solids asked for needs a solid, also where the plan has none.
  const extra = options.solidsEnergyPct === undefined ? [] : lastDiets(past, at);
  const chosen = options.diets ?? [
    ...known,
    ...extra.filter((d) => !known.some((k) => k.kind === d.kind)),
  ];
  const diets = chosen.map((d) => withEnergy(d, energy));
  const asked = options.solidsEnergyPct ?? 0;
  const lacking = asked > 0 && !diets.some((d) => d.kind === "solid");
  if (lacking)
    return without("not computed", [notice("ration-no-solid", "caution", { animal, pct: asked })]);
  const solidsPct = options.solidsEnergyPct ?? planned?.solidsEnergyPct ?? recentSolids(recent);
  const mix = mixDiets(diets, solidsPct, animal);
  if ("code" in mix) return without("not computed", [mix]);
  const scale = (options.scalePct ?? 100) / 100;
  const inGrams = (a: RationAmount) => (a.unit === "g" ? a.amount : a.amount / mix.kcalPerG);
  const amount = amounts.reduce((a, b) => (inGrams(b) > inGrams(a) ? b : a));
  const orderedG = inGrams(amount);
  let grams = scale * orderedG;

  const notices: Notice[] = [amount.why];
  const limits: RationLimit[] = [];
  const bind = (limit: RationLimit["limit"], value: Measured, most: number, code: string) => {
    // An ordered plan is shown as ordered; that it goes beyond a limit is said. More
    // than ordered is cut to the limit, never below the order.
    const over = grams > most;
    if (over && target.kind === "plan" && scale === 1) {
      notices.push(
        notice("ration-plan-over-limit", "caution", { animal, limit, wanted: grams, most }),
      );
    }
    const binds = over && !(target.kind === "plan" && scale === 1);
    if (binds) {
      const cut = target.kind === "plan" ? Math.max(most, Math.min(grams, orderedG)) : most;
      notices.push(
        notice(code, "caution", { animal, wanted: grams, most: cut, value: value.value }),
      );
      grams = cut;
    }
    limits.push({ limit, value, binds });
  };
  const risePct = options.limits?.risePct === undefined ? 10 : options.limits.risePct;
  if (risePct !== null && recentOfferedG.value !== null && recentOfferedG.value > 0) {
    const most = recentOfferedG.value * (1 + risePct / 100);
    bind("rise from day to day", measured(risePct, "%"), most, "ration-rise-limited");
  } else if (risePct !== null) {
    notices.push(notice("ration-rise-not-judged", "caution", { animal }));
  }
  const mostWater = options.limits?.waterMlPerKg;
  if (mostWater !== undefined && mix.waterPerG !== null && mix.waterPerG > 0) {
    const most = (mostWater * massKg) / mix.waterPerG;
    bind("water", measured(mostWater, "mL/kg/d"), most, "ration-water-limited");
  }
  const schedule = feedSchedule(span, zone, ageD, profile, plans, options);
  if (schedule.times.length === 0) {
    return without("not computed", [
      notice("ration-no-rhythm", "caution", { animal, species: profile.species }),
    ]);
  }
  let times = schedule.times;
  let mostPerFeed: number | null = null;
  const feedPct = options.limits?.feedPctOfMass ?? profile.feedLimit?.value;
  if (feedPct === undefined) {
    notices.push(notice("ration-no-feed-limit", "info", { species: profile.species }));
  } else {
    const perFeed = Math.floor((feedPct / 100) * mass.value + 1e-6);
    const needed = Math.ceil(grams / Math.max(1, perFeed));
    if (needed > times.length && schedule.from !== "entered") {
      // More, smaller feeds first, as far as the rhythm of the species allows.
      const n = Math.min(needed, Math.max(times.length, schedule.mostFeeds ?? times.length));
      if (n > times.length) {
        notices.push(notice("ration-more-feeds", "info", { animal, from: times.length, to: n }));
        const hours = bandAt(profile.feedingRhythm, ageD)?.betweenHours ?? null;
        times = spread(n, span, hours, zone);
      }
    }
    bind(
      "share of body mass per feed",
      measured(feedPct, "% of body mass"),
      perFeed * times.length,
      "ration-feed-limited",
    );
    if (target.kind !== "plan" || scale !== 1) mostPerFeed = perFeed;
  }
  // Down where a limit binds, so that rounding never steps over it; up to meet an energy.
  const whole = amount.unit === "kcal" ? Math.ceil(grams - 1e-9) : Math.round(grams);
  const wantedG = limits.some((l) => l.binds) ? Math.floor(grams + 1e-9) : whole;
  const { feeds, parts } = dealOut(wantedG, mix, times, zone, mostPerFeed);
  const totalG = feeds.reduce((total, f) => total + f.g, 0);
  if (!(totalG > 0)) {
    return without("not computed", [
      notice("ration-amount-not-positive", "problem", { amount: grams, unit: "g" }),
    ]);
  }
  const sum = (per: (d: EnergyDiet) => number | null, unit: string): Measured => {
    let total = 0;
    for (const p of parts) {
      const each = per(mix.diets.find((d) => d.dietId === p.dietId)!);
      if (each === null)
        return notDefined(unit, notice("ration-part-unknown", "caution", { diet: p.dietId }));
      total += each * p.g;
    }
    return measured(total, unit);
  };
  const kcal = sum((d) => d.kcalPerG, "kcal/d");
  const water = sum((d) => shareOfPct(d.composition.waterPct), "mL/kg/d");
  warnBelowDemand(kcal.value, massKg, ageD, profile, animal, notices);
  warnOutsideShare((100 * totalG) / mass.value, ageD, profile, animal, notices);
  return finish({
    ...base,
    status: "ration",
    feeds,
    parts,
    diets: mix.diets,
    totalG,
    kcal,
    shareOfMassPct: measured((100 * totalG) / mass.value, "% of body mass/d"),
    kcalPerMetabolicKg:
      kcal.value === null
        ? { ...kcal, unit: "kcal/kg^0.75/d" }
        : measured(kcal.value / massKg ** 0.75, "kcal/kg^0.75/d"),
    waterMlPerKg: water.value === null ? water : measured(water.value / massKg, "mL/kg/d"),
    proteinG: sum((d) => shareOfPct(d.composition.proteinPct), "g/d"),
    fatG: sum((d) => shareOfPct(d.composition.fatPct), "g/d"),
    changePct:
      recentEatenG.value === null || recentEatenG.value <= 0
        ? null
        : 100 * (totalG / recentEatenG.value - 1),
    limits,
    notices: [...notices, review],
  });
}

function outcomeBefore(series: AnimalSeries, at: number, zone: string): boolean {
  const { outcomeDate } = series.animal;
  return outcomeDate === null || feedingDaySpan(outcomeDate, zone, 0).from <= at;
}
