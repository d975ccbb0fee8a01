import { measured } from "../core/measured.js";
import { notice } from "../core/notice.js";
import type { IntakeDay } from "../rates/intake-by-day.js";
import type { CivilDate } from "../series/animal-series.js";
import { addDays } from "../units/calendar.js";
import type { NotJudged, Signal } from "./flag.js";
import type { PreparedAnimal } from "./prepared-animal.js";
import type { RuleLimits } from "./rule-limits.js";

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

function practice(
  kind: Signal["kind"],
  direction: Signal["direction"],
  raised: boolean,
  strength: number,
  value: Signal["value"],
  threshold: number,
  evidence: Signal["evidence"],
  sentence: Signal["sentence"],
): Signal {
  const shown = { ...sentence, level: raised ? ("problem" as const) : ("info" as const) };
  return {
    kind,
    class: "practice",
    direction,
    raised,
    strength,
    value,
    threshold,
    evidence,
    sentence: shown,
  };
}

function againstPlan(animal: PreparedAnimal, day: IntakeDay, limits: RuleLimits) {
  const middle = (day.from + day.to) / 2;
  const valid = animal.series.plans.filter(
    (p) => p.from <= middle && (p.to === null || p.to > middle),
  );
  // A plan without an end holds until it is replaced: the newest rows count, together.
  const newest = valid.reduce((latest, p) => Math.max(latest, p.from), Number.NEGATIVE_INFINITY);
  const planned = valid
    .filter((p) => p.from === newest)
    .reduce((sum, p) => {
      const feeds = p.feedsPerDay ?? (p.feedTimes.length > 0 ? p.feedTimes.length : null);
      return feeds === null || p.gPerFeed === null ? sum : sum + feeds * p.gPerFeed;
    }, 0);
  if (planned <= 0) {
    return [
      {
        kind: "intake below plan" as const,
        why: notice("flag-no-plan", "info", { animal: animal.id }),
      },
    ];
  }
  const out: Signal[] = [];
  const mild = day.eatenG.high ?? day.offeredG;
  const parameters = { animal: animal.id, day: day.feedingDay, planned };
  if (limits.belowPlanPct !== null) {
    const share = (100 * mild) / planned;
    out.push(
      practice(
        "intake below plan",
        "low",
        share < limits.belowPlanPct,
        Math.min(10, limits.belowPlanPct / Math.max(share, 1)),
        measured(share, "%"),
        limits.belowPlanPct,
        { eaten_g: mild, planned_g: planned, feeds: day.feeds },
        notice("flag-below-plan", "info", {
          ...parameters,
          eaten: mild,
          limit: limits.belowPlanPct,
        }),
      ),
    );
  }
  if (limits.abovePlanPct !== null) {
    const share = (100 * day.eatenG.low) / planned;
    out.push(
      practice(
        "intake above plan",
        "high",
        share > limits.abovePlanPct,
        share / limits.abovePlanPct,
        measured(share, "%"),
        limits.abovePlanPct,
        { eaten_g: day.eatenG.low, planned_g: planned, feeds: day.feeds },
        notice("flag-above-plan", "info", {
          ...parameters,
          eaten: day.eatenG.low,
          limit: limits.abovePlanPct,
        }),
      ),
    );
  }
  return out;
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
    practice(
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
    practice(
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
    practice(
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
