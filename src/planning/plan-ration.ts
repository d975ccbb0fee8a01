import { type Measured, measured, notDefined } from "../core/measured.js";
import { type Notice, notice } from "../core/notice.js";
import type { Result } from "../core/result.js";
import { animalLevels } from "../flags/levels/animal-levels.js";
import { intakeByDay } from "../rates/intake-by-day.js";
import { phaseAt, phasesOf } from "../rates/phases-of.js";
import { seriesUpTo } from "../rates/series-up-to.js";
import { outsideStay } from "../reference/in-care.js";
import type { AnimalSeries } from "../series/animal-series.js";
import { dayOrder } from "../series/orders/day-order.js";
import { orderBoundsOf } from "../series/orders/order-bounds.js";
import { smoothedMassAt } from "../series/smoothed-mass.js";
import { profileOf } from "../species/profile-of.js";
import { addDays, feedingDayOf, feedingDaySpan } from "../units/calendar.js";
import { dayMs } from "../units/day-ms.js";
import { cameUpSince } from "./after-what-came-up.js";
import { animalOrder } from "./animal-order.js";
import { feedSchedule } from "./feed-schedule.js";
import { limitRation } from "./limit-ration.js";
import { orderDoubts } from "./order-doubts.js";
import type { Ration, RationFeed, RationLimit } from "./ration.js";
import { type RationAmount, type RationTarget, rationAmounts } from "./ration-amount.js";
import { orderShape, rationByOrder } from "./ration-by-order.js";
import { type EnergyDiet, lastDiets, orderedMix, withEnergy } from "./ration-diet.js";
import { dealOut, mixDiets, partsOf, shareOfPct } from "./ration-mix.js";
import type { RationOptions } from "./ration-options.js";
import { warnBelowDemand, warnImplausibleMass, warnOutsideShare } from "./ration-warnings.js";
import { meanEaten, meanOffered, recentSolids } from "./recent-intake.js";

/**
 * Tomorrow's ration of one animal, to the gram. What is ordered comes first, feed
 * by feed as ordered; whatever departs from it, or stands where nothing is
 * ordered, is a suggestion: from mass, age, species profile, diet and target;
 * number and times of feeds; limits and whether they bind. Nothing by mouth ends
 * every suggestion. The day's feeds add up exactly (largest remainder). While a danger
 * stands, answered or not, or something must be measured first, nothing is suggested;
 * what is ordered stands. For 24 h after anything came up no suggestion rises above the
 * last one before it. How the animal has been gaining plays no part, so a slow gain never raises a ration. Drugs and
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
  const found = rationOf(series, options);
  const { at, settings, profile, limits, energy } = options;
  const since = cameUpSince(series.signs, at);
  const { status, asOrdered, totalG, recentOfferedG } = found.value;
  if (since === null || status !== "ration" || asOrdered || totalG === null) return found;
  // What came up is never made up for: the last suggestion before it is the most.
  const before = rationOf(series, {
    settings,
    at: since - 1,
    ...(profile === undefined ? {} : { profile }),
    ...(limits === undefined ? {} : { limits }),
    ...(energy === undefined ? {} : { energy }),
  }).value;
  const most = before.totalG ?? recentOfferedG.value;
  if (most !== null && totalG <= most) return found;
  const animal = series.animal.animalId;
  if (most === null || !(most > 0))
    return rationOf(series, {
      ...options,
      refuse: notice("ration-cap-unknown", "problem", { animal, since }),
    });
  let scalePct = options.scalePct ?? 100;
  for (let turn = 0; turn < 8; turn++) {
    scalePct *= Math.min(0.995, most / totalG);
    const less = rationOf(series, { ...options, scalePct });
    const { totalG: now, notices } = less.value;
    if (now !== null && now > most) continue;
    const told = notice("ration-capped", "caution", { animal, since, most });
    const value = { ...less.value, notices: [told, ...notices] };
    return { ...less, value, notices: value.notices };
  }
  return rationOf(series, {
    ...options,
    refuse: notice("ration-cap-unknown", "problem", { animal, since }),
  });
}

interface InnerOptions extends RationOptions {
  /** Why nothing can be suggested, found outside. */
  readonly refuse?: Notice;
}

function rationOf(series: AnimalSeries, options: InnerOptions): Result<"plan-ration", Ration> {
  const { settings, at } = options;
  const { zone, feedingDayStartHour: startHour } = settings;
  const profile = options.profile ?? profileOf(series.animal.species, settings.speciesOverrides);
  const feedingDay = options.feedingDay ?? addDays(feedingDayOf(at, zone, startHour), 1);
  const span = feedingDaySpan(feedingDay, zone, startHour);
  const past = seriesUpTo(series, at);
  const mass = smoothedMassAt(past, at, { upTo: at });
  const ageD = series.age.birth === null ? null : (span.from - series.age.birth) / dayMs;
  // What somebody ordered comes first.
  const ordered = dayOrder(past.orders, feedingDay);
  const doubts = orderDoubts(past, ordered, { at, settings });
  const target: RationTarget = options.target ?? {
    kind: (ordered.grams ?? 0) > 0 ? "plan" : "profile",
  };
  const level = options.level ?? levelAlone(series, options);
  const waits = level.reasons.filter((reason) => reason.suggestionsWait);
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
    ordered,
    doubts,
    order: animalOrder(past, ordered, doubts, at, options.ordersOfNobody),
    asOrdered: false,
    level,
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

  const given = (
    feeds: readonly RationFeed[],
    diets: readonly EnergyDiet[],
    limits: readonly RationLimit[],
    asOrdered: boolean,
    notices: readonly Notice[],
  ) => {
    const totalG = feeds.reduce((total, f) => total + f.g, 0);
    if (!(totalG > 0)) {
      return without("not computed", [
        notice("ration-amount-not-positive", "problem", { amount: totalG, unit: "g" }),
      ]);
    }
    const parts = partsOf(feeds, diets);
    const sum = (per: (d: EnergyDiet) => number | null, unit: string): Measured => {
      let total = 0;
      for (const p of parts) {
        const diet = diets.find((d) => d.dietId === p.dietId);
        const each = diet === undefined ? null : per(diet);
        if (each === null)
          return notDefined(unit, notice("ration-part-unknown", "caution", { diet: p.dietId }));
        total += each * p.g;
      }
      return measured(total, unit);
    };
    const massKg = mass.value! / 1000;
    const kcal = sum((d) => d.kcalPerG, "kcal/d");
    const water = sum((d) => shareOfPct(d.composition.waterPct), "mL/kg/d");
    const warnings: Notice[] = [];
    warnImplausibleMass(mass.value!, ageD, profile, animal, warnings);
    warnBelowDemand(kcal.value, massKg, ageD, profile, animal, warnings);
    warnOutsideShare((100 * totalG) / mass.value!, ageD, profile, animal, warnings);
    return finish({
      ...base,
      status: "ration",
      asOrdered,
      feeds,
      parts,
      diets,
      totalG,
      kcal,
      shareOfMassPct: measured((100 * totalG) / mass.value!, "% of body mass/d"),
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
      notices: [...(asOrdered ? [] : amountDoubts(feeds)), ...notices, ...warnings, review],
    });
  };
  /** A suggestion is held against the same bound of a feed as an order. */
  const amountDoubts = (feeds: readonly RationFeed[]): Notice[] => {
    const bound = orderBoundsOf(settings).feedPctOfMass;
    const largest = Math.max(...feeds.map((f) => f.g));
    const pct = (100 * largest) / mass.value!;
    if (bound === null || pct <= bound) return [];
    const parameters = { feed: `${largest} g`, pct, mass: mass.value!, bound };
    return [notice("order-feed-over-mass", "problem", parameters)];
  };

  const states = [ordered.atStart, ...ordered.changes.map((step) => step.inForce)];
  if (states.some((each) => each.state === "nil by mouth")) {
    return without("not computed", [notice("ration-nil-by-mouth", "problem", { animal })]);
  }
  const { outcome } = series.animal;
  const left = outcome !== null && outcome !== "in care" && outcomeBefore(series, span.from, zone);
  // One that is fed since is here, whatever the animals table says of its leaving.
  const today = feedingDayOf(at, zone, startHour);
  const here = outsideStay(series, today, settings) !== null;
  if (left && !here) {
    return without("not computed", [notice("ration-not-in-care", "info", { animal, outcome })]);
  }
  if (waits.length > 0) {
    const why = waits.map((reason) => reason.sentence);
    const isDanger = waits.some((reason) => reason.level === "danger");
    const code = isDanger ? "ration-hold" : "ration-waits";
    return without("hold", [notice(code, "problem", { animal }), ...why]);
  }
  if (options.refuse !== undefined) return without("not computed", [options.refuse]);
  const phases = phasesOf(past, { settings, profile, endAt: at, intake }).value.phases;
  if (phaseAt(phases, at)?.phase === "post-weaning fast") {
    return without("not computed", [notice("ration-in-fast", "caution", { animal })]);
  }
  // Holds already ask for a recent weighing; switched off, the mass may be missing.
  if (mass.value === null || !(mass.value > 0)) {
    return without("not computed", [notice("ration-no-mass", "problem", { animal })]);
  }
  const massKg = mass.value / 1000;
  // An order that stands but cannot be added up is followed as written, not replaced by a sum.
  const unsummed = ordered.feeds.length + ordered.uncounted.length > 0 && ordered.grams === null;
  if (unsummed && states.some((each) => each.lines.some((l) => l.perFeed ?? l.perDay))) {
    return without("not computed", [notice("ration-order-as-written", "caution", { animal })]);
  }
  const amounts = rationAmounts(target, massKg, ageD, profile, ordered.grams);
  if ("code" in amounts) return without("not computed", [amounts]);

  const energy = options.energy ?? "stated, else general";
  const shape = target.kind === "plan" ? orderShape(past, ordered, options) : null;
  if (shape !== null) {
    const scaled = rationByOrder(shape, ordered, {
      animal,
      scalePct: options.scalePct ?? 100,
      massG: mass.value,
      recentOfferedG: recentOfferedG.value,
      limits: options.limits ?? {},
      profile,
      ageD,
      span,
      zone,
      energy,
    });
    return given(scaled.feeds, scaled.diets, scaled.limits, scaled.asOrdered, [
      amounts[0]!.why,
      ...scaled.notices,
    ]);
  }
  const planned = target.kind === "plan" ? orderedMix(past, ordered, energy) : null;
  if (target.kind === "plan" && planned === null && options.diets === undefined) {
    return without("not computed", [notice("ration-order-as-written", "caution", { animal })]);
  }
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
  const schedule = feedSchedule(span, zone, ageD, profile, ordered, options);
  if (schedule.times.length === 0) {
    return without("not computed", [
      notice("ration-no-rhythm", "caution", { animal, species: profile.species }),
    ]);
  }
  const limited = limitRation({
    animal,
    wantedG: scale * orderedG,
    orderedG: target.kind === "plan" ? orderedG : null,
    massG: mass.value,
    recentOfferedG: recentOfferedG.value,
    waterPerG: mix.waterPerG,
    limits: options.limits ?? {},
    profile,
    ageD,
    schedule,
    span,
    zone,
  });
  const { grams, limits, times } = limited;
  const notices: Notice[] = [amount.why, ...limited.notices];
  // Down where a limit binds, so that rounding never steps over it; up to meet an energy.
  const whole = amount.unit === "kcal" ? Math.ceil(grams - 1e-9) : Math.round(grams);
  const wantedG = limits.some((l) => l.binds) ? Math.floor(grams + 1e-9) : whole;
  const { feeds } = dealOut(wantedG, mix, times, zone, limited.mostPerFeed);
  return given(feeds, mix.diets, limits, false, notices);
}

/** Its level as its own history tells it, where nobody has worked it out among the others. */
function levelAlone(series: AnimalSeries, { at, settings, levelLimits }: RationOptions) {
  const study = {
    settings,
    animals: [series],
    scaleChecks: [],
    events: [],
    batches: [],
    notices: [],
  };
  const only = [series.animal.animalId];
  return animalLevels(study, {
    at,
    only,
    ...(levelLimits === undefined ? {} : { limits: levelLimits }),
  })[0]!;
}

function outcomeBefore(series: AnimalSeries, at: number, zone: string): boolean {
  const { outcomeDate } = series.animal;
  return outcomeDate !== null && feedingDaySpan(outcomeDate, zone, 0).from <= at;
}
