import { measured } from "../../core/measured.js";
import { notice } from "../../core/notice.js";
import type { IntakeDay } from "../../rates/intake-by-day.js";
import { madToSd } from "../../stats/descriptive/mad-to-sd.js";
import { median, medianInPlace } from "../../stats/descriptive/median.js";
import { dayMs } from "../../units/day-ms.js";
import type { NotJudged } from "../animal-day/flag.js";
import type { PreparedAnimal } from "../animal-day/prepared-animal.js";
import type { Signal } from "../animal-day/signal.js";
import { type FedDay, fewestHabitDays, habitDays } from "./fed-day.js";
import { strengthBelow } from "./plan-signals.js";
import type { RuleLimits } from "./rule-limits.js";
import { ruleSignal } from "./rule-signal.js";

/** Least relative spread of a day's intake, and how many of them two low days must lie below. */
const leastSpread = 0.03;
const spreads = 2.5;
/** Of less than so much a day, g or kcal, no share is told. */
const leastUsual = 1;
/** Greatest rise of intake per day that growth explains. */
const greatestRise = 0.015;

/**
 * Intake of the last full day below the animal's own habit, the median of up to ten
 * days before: far below on one day, or a little below on two days in a row and
 * beyond its own day-to-day variation. Compared as energy where every diet's energy
 * is known, else as grams of one and the same diet: a change of diet must not look
 * like appetite. A day with fewer feeds written than usual is judged by what was
 * eaten in each, until it is the second one.
 */
export function habitSignal(
  animal: PreparedAnimal,
  fed: FedDay,
  limits: RuleLimits,
): readonly (Signal | NotJudged)[] {
  const limit = limits.belowHabitPct;
  if (limit === null) return [];
  const notJudged = (code: "flag-no-habit" | "flag-habit-other-diet" | "flag-refusals-unknown") => [
    {
      kind: "eaten below habit" as const,
      why: notice(code, "info", { animal: animal.id, n: fed.habit.length }),
    },
  ];
  if (fed.habit.length < fewestHabitDays || fed.buildUp) return notJudged("flag-no-habit");
  const two = fed.before === null ? [fed.intake] : [fed.intake, fed.before];
  const byEnergy = [...fed.habit, ...two].every((d) => d.kcal.high !== null);
  if (!byEnergy && !sameDiet(animal, fed)) return notJudged("flag-habit-other-diet");
  const least = (d: IntakeDay) => (byEnergy ? d.kcal.low : d.eatenG.low);
  // A doubted feed counts by its worse meaning; a refusal left blank makes no alarm.
  const most = (d: IntakeDay) =>
    (d.doubted ?? 0) > 0 ? least(d) : byEnergy ? d.kcal.high! : (d.eatenG.high ?? d.offeredG);
  const { usual, spread } = usualIntake(fed, least);
  if (usual < leastUsual) return notJudged("flag-no-habit");
  const usualFeeds = median(fed.habit.map((d) => d.feeds))!;
  const share = (d: IntakeDay) => (100 * most(d)) / usual;
  const perFeed = (d: IntakeDay) => share(d) * Math.max(1, usualFeeds / d.feeds);
  const today = share(fed.intake);
  if (
    today >= limit &&
    (100 * least(fed.intake)) / usual < limit &&
    fed.intake.eatenG.value === null
  )
    return notJudged("flag-refusals-unknown");
  const both = (of: (d: IntakeDay) => number, below: number) =>
    two.length === 2 && two.every((d) => of(d) < below);
  const little = Math.min(limits.belowHabitTwoDaysPct ?? 0, 100 * Math.exp(-spreads * spread));
  const far = perFeed(fed.intake) < limit || both(share, limit);
  const raised = far || both(perFeed, little);
  return [
    ruleSignal({
      class: "practice",
      kind: "eaten below habit",
      direction: "low",
      raised,
      strength: strengthBelow(raised, today, far ? limit : Math.max(limit, little)),
      value: measured(today, "%", { n: fed.habit.length }),
      threshold: far || !raised ? limit : little,
      evidence: {
        eaten: most(fed.intake),
        usual,
        unit: byEnergy ? "kcal" : "g",
        days: fed.habit.length,
        feeds: fed.intake.feeds,
        usualFeeds,
        spreadPct: 100 * spread,
        dayBeforePct: fed.before === null ? null : share(fed.before),
      },
      sentence: notice(raised && !far ? "flag-below-habit-twice" : "flag-below-habit", "info", {
        animal: animal.id,
        day: fed.day,
        eaten: most(fed.intake),
        usual,
        unit: byEnergy ? "kcal" : "g",
        share: today,
        before: fed.before === null ? null : share(fed.before),
        limit: far || !raised ? limit : little,
      }),
    }),
  ];
}

/** Was one and the same diet fed on all the days compared? */
function sameDiet(animal: PreparedAnimal, fed: FedDay): boolean {
  const days = [...fed.habit, fed.intake, ...(fed.before === null ? [] : [fed.before])];
  const from = Math.min(...days.map((d) => d.from));
  const to = Math.max(...days.map((d) => d.to));
  const diets = new Set(
    animal.series.feeds.filter((f) => f.at >= from && f.at < to).map((f) => f.dietId),
  );
  return diets.size <= 1;
}

/**
 * What is usual on that day, and the relative spread of single days about it: a
 * robust line through the logarithms of the habit's days, since a growing animal
 * eats a little more each day. Its slope (median of the slopes between all pairs)
 * is held between standing still and what growth explains.
 */
function usualIntake(fed: FedDay, least: (d: IntakeDay) => number) {
  const days = fed.habit;
  const n = days.length;
  const { back, log, pairs } = room;
  for (let i = 0; i < n; i++) {
    back[i] = (fed.intake.from - days[i]!.from) / dayMs;
    log[i] = Math.log(Math.max(least(days[i]!), 1e-9));
  }
  let many = 0;
  for (let i = 0; i < n; i++)
    for (let j = i + 1; j < n; j++) pairs[many++] = (log[i]! - log[j]!) / (back[j]! - back[i]!);
  const steepness = many === 0 ? 0 : medianInPlace(pairs, many);
  const slope = Math.min(greatestRise, Math.max(0, steepness));
  for (let i = 0; i < n; i++) pairs[i] = log[i]! + slope * back[i]!;
  const level = medianInPlace(pairs, n);
  for (let i = 0; i < n; i++) pairs[i] = Math.abs(log[i]! + slope * back[i]! - level);
  const spread = madToSd * medianInPlace(pairs, n);
  return { usual: Math.exp(level), spread: Math.max(leastSpread, spread) };
}

/** Used again: asked for every day of every animal. */
const room = {
  back: new Float64Array(habitDays),
  log: new Float64Array(habitDays),
  pairs: new Float64Array((habitDays * (habitDays + 1)) / 2),
};
