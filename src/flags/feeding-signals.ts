import { measured } from "../core/measured.js";
import { notice } from "../core/notice.js";
import { energyOf } from "../rates/energy-of.js";
import type { IntakeDay } from "../rates/intake-by-day.js";
import type { CivilDate } from "../series/animal-series.js";
import { addDays } from "../units/calendar.js";
import type { NotJudged, Signal } from "./flag.js";
import type { PreparedAnimal } from "./prepared-animal.js";
import type { RuleLimits } from "./rule-limits.js";
import { ruleSignal } from "./rule-signal.js";

/**
 * What the last full feeding day says: intake below or above the plan, below the
 * animal's own habit, refusals, and a single feed above the species' limit. The
 * feeding day under way is not judged: part of it may be missing. Where refusals
 * are unknown the bound milder for the animal decides.
 */
export function feedingSignals(
  animal: PreparedAnimal,
  onDay: CivilDate,
  limits: RuleLimits,
): readonly (Signal | NotJudged)[] {
  const day = addDays(onDay, -1);
  const today = animal.intake.get(day);
  if (today === undefined || today.feeds === 0) {
    const why = notice("flag-no-feeds", "info", { animal: animal.id, day });
    const kinds = ["intake below plan", "intake below habit", "refusals"] as const;
    return kinds.map((kind) => ({ kind, why }));
  }
  return [
    ...againstPlan(animal, today, limits),
    ...againstHabit(animal, today, day, limits),
    ...refusals(animal, today, limits),
    ...singleFeed(animal, today),
  ];
}

/** What was planned and eaten that day, in grams or, where another diet was fed, in energy. */
interface PlannedAndEaten {
  readonly unit: "g" | "kcal";
  readonly planned: number;
  /** The bound of what was eaten that is milder for each direction. */
  readonly most: number;
  readonly least: number;
}

function againstPlan(animal: PreparedAnimal, day: IntakeDay, limits: RuleLimits) {
  const compared = plannedAndEaten(animal, day);
  if (compared === "no plan" || compared === "other diet") {
    const code = compared === "no plan" ? "flag-no-plan" : "flag-plan-other-diet";
    return [
      { kind: "intake below plan" as const, why: notice(code, "info", { animal: animal.id }) },
    ];
  }
  const { unit, planned, most, least } = compared;
  const out: Signal[] = [];
  const parameters = { animal: animal.id, day: day.feedingDay, planned, unit };
  const evidence = (eaten: number) => ({
    [`eaten_${unit}`]: eaten,
    [`planned_${unit}`]: planned,
    feeds: day.feeds,
  });
  if (limits.belowPlanPct !== null) {
    const share = (100 * most) / planned;
    const limit = limits.belowPlanPct;
    out.push(
      ruleSignal(
        "practice",
        "intake below plan",
        "low",
        share < limit,
        Math.min(10, limit / Math.max(share, 1)),
        measured(share, "%"),
        limit,
        evidence(most),
        notice("flag-below-plan", "info", { ...parameters, eaten: most, limit }),
      ),
    );
  }
  if (limits.abovePlanPct !== null) {
    const share = (100 * least) / planned;
    const limit = limits.abovePlanPct;
    out.push(
      ruleSignal(
        "practice",
        "intake above plan",
        "high",
        share > limit,
        share / limit,
        measured(share, "%"),
        limit,
        evidence(least),
        notice("flag-above-plan", "info", { ...parameters, eaten: least, limit }),
      ),
    );
  }
  return out;
}

/**
 * Grams of one diet say nothing about grams of another: where something else was
 * fed than planned (squid for clam), both are compared as energy, with each
 * planned diet's energy as last fed to this animal by then.
 */
function plannedAndEaten(
  animal: PreparedAnimal,
  day: IntakeDay,
): PlannedAndEaten | "no plan" | "other diet" {
  const middle = (day.from + day.to) / 2;
  const valid = animal.series.plans.filter(
    (p) => p.from <= middle && (p.to === null || p.to > middle),
  );
  // A plan without an end holds until it is replaced: the newest rows count, together.
  const newest = valid.reduce((latest, p) => Math.max(latest, p.from), Number.NEGATIVE_INFINITY);
  const rows = valid
    .filter((p) => p.from === newest)
    .flatMap((p) => {
      const feeds = p.feedsPerDay ?? (p.feedTimes.length > 0 ? p.feedTimes.length : null);
      return feeds === null || p.gPerFeed === null
        ? []
        : [{ dietId: p.dietId, grams: feeds * p.gPerFeed }];
    });
  const grams = rows.reduce((sum, r) => sum + r.grams, 0);
  if (grams <= 0) return "no plan";
  const fed = animal.series.feeds.filter((f) => f.at >= day.from && f.at < day.to);
  const asPlanned =
    rows.some((r) => r.dietId === null) ||
    fed.every((f) => f.dietId === null || rows.some((r) => r.dietId === f.dietId));
  if (asPlanned) {
    return {
      unit: "g",
      planned: grams,
      most: day.eatenG.high ?? day.offeredG,
      least: day.eatenG.low,
    };
  }
  let kcal = 0;
  for (const row of rows) {
    const perG = energyAsLastFed(animal, row.dietId, day.to);
    if (perG === null) return "other diet";
    kcal += row.grams * perG;
  }
  if (day.kcal.high === null || kcal <= 0) return "other diet";
  return { unit: "kcal", planned: kcal, most: day.kcal.high, least: day.kcal.low };
}

function energyAsLastFed(
  animal: PreparedAnimal,
  dietId: string | null,
  before: number,
): number | null {
  const { feeds } = animal.series;
  for (let i = feeds.length - 1; i >= 0; i--) {
    const { dietId: fed, at, composition } = feeds[i]!;
    if (fed === dietId && at < before && composition !== null) {
      return energyOf(composition).kcalPerG.value;
    }
  }
  return null;
}

function againstHabit(
  animal: PreparedAnimal,
  today: IntakeDay,
  day: CivilDate,
  limits: RuleLimits,
) {
  if (limits.belowHabitPct === null) return [];
  // Energy where every diet is known, else grams: a change of diet must not look like appetite.
  const habit: IntakeDay[] = [];
  for (let back = 1; back <= 7; back++) {
    const d = animal.intake.get(addDays(day, -back));
    if (d !== undefined && d.feeds > 0) habit.push(d);
  }
  if (habit.length < 4) {
    return [
      {
        kind: "intake below habit" as const,
        why: notice("flag-no-habit", "info", { animal: animal.id, n: habit.length }),
      },
    ];
  }
  const byEnergy = [...habit, today].every((d) => d.kcal.high !== null);
  const low = (d: IntakeDay) => (byEnergy ? d.kcal.low : d.eatenG.low);
  const high = (d: IntakeDay) => (byEnergy ? d.kcal.high! : (d.eatenG.high ?? d.offeredG));
  const usual = habit.map(low).sort((a, b) => a - b)[Math.floor((habit.length - 1) / 2)]!;
  const eaten = high(today);
  const share = usual > 0 ? (100 * eaten) / usual : 100;
  const limit = limits.belowHabitPct;
  const unit = byEnergy ? "kcal" : "g";
  return [
    ruleSignal(
      "practice",
      "intake below habit",
      "low",
      share < limit,
      Math.min(10, limit / Math.max(share, 1)),
      measured(share, "%", { n: habit.length }),
      limit,
      { eaten, usual, unit, days: habit.length },
      notice("flag-below-habit", "info", {
        animal: animal.id,
        day,
        eaten,
        usual,
        unit,
        share,
        limit,
      }),
    ),
  ];
}

function refusals(animal: PreparedAnimal, day: IntakeDay, limits: RuleLimits) {
  if (limits.refusedPct === null || day.offeredG <= 0) return [];
  const share = (100 * day.refusedG.low) / day.offeredG;
  if (day.refusedG.value === null && share < limits.refusedPct) {
    return [
      {
        kind: "refusals" as const,
        why: notice("flag-refusals-unknown", "info", { animal: animal.id }),
      },
    ];
  }
  return [
    ruleSignal(
      "practice",
      "refusals",
      "high",
      share >= limits.refusedPct,
      share / limits.refusedPct,
      measured(share, "%"),
      limits.refusedPct,
      { refused_g: day.refusedG.low, offered_g: day.offeredG, feeds: day.feeds },
      notice("flag-refusals", "info", {
        animal: animal.id,
        day: day.feedingDay,
        share,
        refused: day.refusedG.low,
        offered: day.offeredG,
        limit: limits.refusedPct,
      }),
    ),
  ];
}

function singleFeed(animal: PreparedAnimal, day: IntakeDay) {
  const limit = animal.profile.feedLimit;
  if (limit === null || day.massG === null) return [];
  const allowed = limit.unit.startsWith("%") ? (limit.value / 100) * day.massG : limit.value;
  const feeds = animal.series.feeds.filter((f) => f.at >= day.from && f.at < day.to);
  const most = feeds.reduce((m, f) => Math.max(m, f.eatenLowG), 0);
  return [
    ruleSignal(
      "practice",
      "intake above limit",
      "high",
      most > allowed,
      most / allowed,
      measured(most, "g", { n: feeds.length }),
      allowed,
      { feed_g: most, limit_g: allowed, mass_g: day.massG },
      notice("flag-feed-above-limit", "info", { animal: animal.id, feed: most, limit: allowed }),
    ),
  ];
}
