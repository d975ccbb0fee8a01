import { type Notice, notice } from "../core/notice.js";
import type { Result } from "../core/result.js";
import type { AnimalSeries } from "../series/animal-series.js";
import { cameUpSince } from "./after-what-came-up.js";
import { describeRation, noRation } from "./describe-ration.js";
import { feedSchedule } from "./feed-schedule.js";
import { limitRation } from "./limit-ration.js";
import type { Ration } from "./ration.js";
import { type RationAmount, rationAmounts } from "./ration-amount.js";
import { orderShape, rationByOrder } from "./ration-by-order.js";
import { lastDiets, orderedMix, withEnergy } from "./ration-diet.js";
import {
  energyAsked,
  type GroundOptions,
  type RationGround,
  rationGround,
} from "./ration-ground.js";
import { dealOut, mixDiets } from "./ration-mix.js";
import type { RationOptions } from "./ration-options.js";
import { recentSolids } from "./recent-intake.js";
import { whyNone } from "./why-no-ration.js";

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

function rationOf(series: AnimalSeries, options: GroundOptions): Result<"plan-ration", Ration> {
  const ground = rationGround(series, options);
  const none = whyNone(ground);
  if (none !== null) return noRation(ground, none.status, none.notices);
  const { ordered, target, profile, ageD } = ground;
  const amounts = rationAmounts(target, ground.mass.value! / 1000, ageD, profile, ordered.grams);
  if ("code" in amounts) return noRation(ground, "not computed", [amounts]);
  const shape = target.kind === "plan" ? orderShape(ground.past, ordered, options) : null;
  return shape === null ? suggest(ground, amounts) : followOrder(ground, shape, amounts[0]!.why);
}

/** The order feed by feed, scaled where that was asked for. */
function followOrder(
  ground: RationGround,
  shape: NonNullable<ReturnType<typeof orderShape>>,
  why: Notice,
): Result<"plan-ration", Ration> {
  const { options, ordered, profile, ageD, span, animal, settings } = ground;
  const scaled = rationByOrder(shape, ordered, {
    animal,
    scalePct: options.scalePct ?? 100,
    massG: ground.mass.value!,
    recentOfferedG: ground.recentOfferedG.value,
    limits: options.limits ?? {},
    profile,
    ageD,
    span,
    zone: settings.zone,
    energy: energyAsked(options),
  });
  return describeRation(ground, { ...scaled, notices: [why, ...scaled.notices] });
}

/** A suggestion: diets in their shares, the amount within its limits, dealt out over the feeds. */
function suggest(
  ground: RationGround,
  amounts: readonly RationAmount[],
): Result<"plan-ration", Ration> {
  const { options, target, profile, ageD, span, animal, settings, ordered } = ground;
  const { zone } = settings;
  const mix = mixFor(ground);
  if ("code" in mix) return noRation(ground, "not computed", [mix]);
  const inGrams = (a: RationAmount) => (a.unit === "g" ? a.amount : a.amount / mix.kcalPerG);
  const amount = amounts.reduce((a, b) => (inGrams(b) > inGrams(a) ? b : a));
  const orderedG = inGrams(amount);
  const schedule = feedSchedule(span, zone, ageD, profile, ordered, options);
  if (schedule.times.length === 0) {
    const about = { animal, species: profile.species };
    return noRation(ground, "not computed", [notice("ration-no-rhythm", "caution", about)]);
  }
  const limited = limitRation({
    animal,
    wantedG: ((options.scalePct ?? 100) / 100) * orderedG,
    orderedG: target.kind === "plan" ? orderedG : null,
    massG: ground.mass.value!,
    recentOfferedG: ground.recentOfferedG.value,
    waterPerG: mix.waterPerG,
    limits: options.limits ?? {},
    profile,
    ageD,
    schedule,
    span,
    zone,
  });
  const { grams, limits, times } = limited;
  // Down where a limit binds, so that rounding never steps over it; up to meet an energy.
  const whole = amount.unit === "kcal" ? Math.ceil(grams - 1e-9) : Math.round(grams);
  const wantedG = limits.some((l) => l.binds) ? Math.floor(grams + 1e-9) : whole;
  const { feeds } = dealOut(wantedG, mix, times, zone, limited.mostPerFeed);
  const notices = [amount.why, ...limited.notices];
  return describeRation(ground, { feeds, diets: mix.diets, limits, asOrdered: false, notices });
}

/** The diets of the suggestion in their shares of energy, or why there are none. */
function mixFor({
  options,
  target,
  past,
  ordered,
  recent,
  animal,
}: RationGround): ReturnType<typeof mixDiets> {
  const energy = energyAsked(options);
  const planned = target.kind === "plan" ? orderedMix(past, ordered, energy) : null;
  if (target.kind === "plan" && planned === null && options.diets === undefined) {
    return notice("ration-order-as-written", "caution", { animal });
  }
  const known = planned?.diets ?? lastDiets(past, options.at);
  // A share of solids asked for needs a solid, also where the plan has none.
  const extra = options.solidsEnergyPct === undefined ? [] : lastDiets(past, options.at);
  const chosen = options.diets ?? [
    ...known,
    ...extra.filter((d) => !known.some((k) => k.kind === d.kind)),
  ];
  const diets = chosen.map((d) => withEnergy(d, energy));
  const asked = options.solidsEnergyPct ?? 0;
  if (asked > 0 && !diets.some((d) => d.kind === "solid")) {
    return notice("ration-no-solid", "caution", { animal, pct: asked });
  }
  const solidsPct = options.solidsEnergyPct ?? planned?.solidsEnergyPct ?? recentSolids(recent);
  return mixDiets(diets, solidsPct, animal);
}
