import { measured } from "../../core/measured.js";
import { notice } from "../../core/notice.js";
import type { IntakeDay } from "../../rates/intake-by-day.js";
import type { NotJudged } from "../animal-day/flag.js";
import type { PreparedAnimal } from "../animal-day/prepared-animal.js";
import type { Signal } from "../animal-day/signal.js";
import { tooLowInBuildUp } from "./build-up.js";
import type { FedDay } from "./fed-day.js";
import { type PlannedIntake, plannedIntake } from "./planned-intake.js";
import type { RuleLimits } from "./rule-limits.js";
import { ruleSignal } from "./rule-signal.js";

/**
 * Intake of the last full day below or above the plan. Where refusals are unknown
 * and the answer hangs on them, the rule is not judged. A day with fewer feeds
 * written than planned may have lost a line: it is raised at once only where the
 * feeds written lie below the limit themselves, else on the second such day.
 */
export function planSignals(
  animal: PreparedAnimal,
  fed: FedDay,
  limits: RuleLimits,
): readonly (Signal | NotJudged)[] {
  const compared = plannedIntake(animal, fed.intake);
  if (compared === "no plan" || compared === "other diet") {
    const code = compared === "no plan" ? "flag-no-plan" : "flag-plan-other-diet";
    return [{ kind: "eaten below plan", why: notice(code, "info", { animal: animal.id }) }];
  }
  return [
    ...(limits.belowPlanPct === null ? [] : [below(animal, fed, compared, limits.belowPlanPct)]),
    ...(limits.abovePlanPct === null ? [] : [above(animal, fed, compared, limits.abovePlanPct)]),
  ];
}

function below(
  animal: PreparedAnimal,
  fed: FedDay,
  compared: PlannedIntake,
  limit: number,
): Signal | NotJudged {
  const { unit, planned, most, least } = compared;
  // A doubted feed counts by its worse meaning; a refusal left blank makes no alarm.
  const doubted = (fed.intake.doubted ?? 0) > 0;
  const share = (100 * (doubted ? least : most)) / planned;
  if (!doubted && share >= limit && (100 * least) / planned < limit) {
    const why = notice("flag-refusals-unknown", "info", { animal: animal.id });
    return { kind: "eaten below plan", why };
  }
  const before = shareOf(animal, fed.before);
  const perFeed = share * Math.max(1, compared.feeds / Math.max(1, fed.intake.feeds));
  const raised = fed.buildUp
    ? tooLowInBuildUp(share, before, limit)
    : perFeed < limit || (share < limit && before !== null && before < limit);
  return ruleSignal({
    class: "practice",
    kind: "eaten below plan",
    direction: "low",
    raised,
    strength: strengthBelow(raised, share, limit),
    value: measured(share, "%"),
    threshold: limit,
    evidence: {
      eaten: doubted ? least : most,
      planned,
      unit,
      feeds: fed.intake.feeds,
      plannedFeeds: compared.feeds,
      dayBeforePct: before,
    },
    sentence: notice(fed.buildUp ? "flag-below-plan-building-up" : "flag-below-plan", "info", {
      animal: animal.id,
      day: fed.day,
      planned,
      unit,
      eaten: doubted ? least : most,
      limit,
    }),
  });
}

function above(
  animal: PreparedAnimal,
  fed: FedDay,
  compared: PlannedIntake,
  limit: number,
): Signal | NotJudged {
  const { unit, planned, most, least } = compared;
  const doubted = (fed.intake.doubted ?? 0) > 0;
  const share = (100 * (doubted ? most : least)) / planned;
  if (!doubted && share <= limit && (100 * most) / planned > limit) {
    const why = notice("flag-refusals-unknown", "info", { animal: animal.id });
    return { kind: "eaten above plan", why };
  }
  return ruleSignal({
    class: "practice",
    kind: "eaten above plan",
    direction: "high",
    raised: share > limit,
    strength: share / limit,
    value: measured(share, "%"),
    threshold: limit,
    evidence: {
      eaten: doubted ? most : least,
      planned,
      unit,
      feeds: fed.intake.feeds,
      plannedFeeds: compared.feeds,
    },
    sentence: notice("flag-above-plan", "info", {
      animal: animal.id,
      day: fed.day,
      planned,
      unit,
      eaten: doubted ? most : least,
      limit,
    }),
  });
}

/** Share of the plan eaten at most on another day, %; null where there is none. */
function shareOf(animal: PreparedAnimal, day: IntakeDay | null): number | null {
  const compared = day === null ? "no plan" : plannedIntake(animal, day);
  return typeof compared === "string" ? null : (100 * compared.most) / compared.planned;
}

/** Limit over share, at most 10; below 1 while it is not raised. */
export function strengthBelow(raised: boolean, share: number, limit: number): number {
  const strength = Math.min(10, limit / Math.max(share, 1));
  return raised ? Math.max(1, strength) : Math.min(0.99, strength);
}
