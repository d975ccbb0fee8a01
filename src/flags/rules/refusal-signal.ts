import { measured } from "../../core/measured.js";
import { notice } from "../../core/notice.js";
import type { IntakeDay } from "../../rates/intake-by-day.js";
import { median } from "../../stats/descriptive/median.js";
import type { NotJudged } from "../animal-day/flag.js";
import type { PreparedAnimal } from "../animal-day/prepared-animal.js";
import type { Signal } from "../animal-day/signal.js";
import { tooLowInBuildUp } from "./build-up.js";
import { type FedDay, fewestHabitDays } from "./fed-day.js";
import type { RuleLimits } from "./rule-limits.js";
import { ruleSignal } from "./rule-signal.js";

/**
 * Refused on the last full day: from half of what was offered always, from a lower
 * share on two days in a row where it is also clearly more than this animal usually
 * refuses (some nurseries always offer more than is eaten). Where some refusals are blank and the
 * answer hangs on them, the rule is not judged.
 */
export function refusalSignal(
  animal: PreparedAnimal,
  fed: FedDay,
  limits: RuleLimits,
): readonly (Signal | NotJudged)[] {
  const limit = limits.refusedPct;
  const { intake } = fed;
  if (limit === null || intake.offeredG <= 0) return [];
  const least = (d: IntakeDay) => (100 * d.refusedG.low) / d.offeredG;
  const share = least(intake);
  const earlier = fed.habit.filter((d) => d.offeredG > 0).map(least);
  const usual = earlier.length < fewestHabitDays ? null : median(earlier);
  const always = Math.max(limit, limits.refusedAlwaysPct);
  const needed =
    usual === null ? limit : Math.min(always, Math.max(limit, usual + limits.refusedAboveHabitPct));
  const most = (100 * (intake.refusedG.high ?? intake.offeredG)) / intake.offeredG;
  if (share < needed && most >= needed && intake.refusedG.value === null) {
    const why = notice("flag-refusals-unknown", "info", { animal: animal.id });
    return [{ kind: "refusals", why }];
  }
  const before = fed.before !== null && fed.before.offeredG > 0 ? least(fed.before) : null;
  const raised = fed.buildUp
    ? tooLowInBuildUp(100 - share, before === null ? null : 100 - before, 100 - always)
    : share >= always || (share >= needed && before !== null && before >= needed);
  return [
    ruleSignal({
      class: "practice",
      kind: "refusals",
      direction: "high",
      raised,
      strength: raised ? Math.max(1, share / needed) : Math.min(0.99, share / needed),
      value: measured(share, "%"),
      threshold: needed,
      evidence: {
        refusedG: intake.refusedG.low,
        offeredG: intake.offeredG,
        feeds: intake.feeds,
        usualPct: usual,
        dayBeforePct: before,
      },
      sentence: notice(fed.buildUp ? "flag-refusals-building-up" : "flag-refusals", "info", {
        animal: animal.id,
        day: fed.day,
        share,
        refused: intake.refusedG.low,
        offered: intake.offeredG,
        limit: needed,
      }),
    }),
  ];
}
