import { measured } from "../../core/measured.js";
import { notice } from "../../core/notice.js";
import type { CivilDate } from "../../series/animal-series.js";
import { rowsBetween } from "../../series/rows-between.js";
import type { NotJudged } from "../animal-day/flag.js";
import type { PreparedAnimal } from "../animal-day/prepared-animal.js";
import { rowUpTo } from "../animal-day/row-up-to.js";
import type { PhaseOn } from "../animal-day/settled-days.js";
import type { Signal, SignalKind } from "../animal-day/signal.js";
import { type FedDay, fedDay } from "./fed-day.js";
import { habitSignal } from "./habit-signal.js";
import { planSignals } from "./plan-signals.js";
import { refusalSignal } from "./refusal-signal.js";
import type { RuleLimits } from "./rule-limits.js";
import { ruleSignal } from "./rule-signal.js";

const judgedByTheDay: readonly SignalKind[] = ["eaten below plan", "eaten below habit", "refusals"];

/**
 * What the last full feeding day says: intake below or above the plan, below the
 * animal's own habit, refusals, and a single feed above the species' limit. A day
 * that cannot be judged says why.
 */
export function feedingSignals(
  animal: PreparedAnimal,
  onDay: CivilDate,
  phaseOn: PhaseOn,
  limits: RuleLimits,
): readonly (Signal | NotJudged)[] {
  const fed = fedDay(animal, onDay, phaseOn);
  if ("code" in fed) return judgedByTheDay.map((kind) => ({ kind, why: fed }));
  return [
    ...planSignals(animal, fed, limits),
    ...habitSignal(animal, fed, limits),
    ...refusalSignal(animal, fed, limits),
    ...singleFeed(animal, fed),
  ];
}

/** The largest feed against the species' limit, by the last mass known by then. */
function singleFeed(animal: PreparedAnimal, { day, intake }: FedDay): readonly Signal[] {
  const limit = animal.profile.feedLimit;
  const massG = rowUpTo(animal, day)?.massG ?? null;
  if (limit === null || massG === null) return [];
  const allowed = limit.unit.startsWith("%") ? (limit.value / 100) * massG : limit.value;
  const feeds = rowsBetween(animal.series.feeds, intake.from, intake.to);
  const most = feeds.reduce((m, f) => Math.max(m, f.eatenLowG), 0);
  return [
    ruleSignal({
      class: "practice",
      kind: "eaten above limit",
      direction: "high",
      raised: most > allowed,
      strength: most / allowed,
      value: measured(most, "g", { n: feeds.length }),
      threshold: allowed,
      evidence: { feedG: most, limitG: allowed, massG: massG },
      sentence: notice("flag-feed-above-limit", "info", {
        animal: animal.id,
        feed: most,
        limit: allowed,
      }),
    }),
  ];
}
