import { type Notice, notice } from "../../core/notice.js";
import { defaultRuleLimits, type RuleLimits } from "../rules/rule-limits.js";
import { measuredLevelRates } from "./measured-level-rates.js";
import { measuredRuleRates } from "./measured-rule-rates.js";
import type { MeasuredRuleRates } from "./rule-rates.js";

/**
 * What the budget does not cover: how often dangers, common practice and the whole
 * list named healthy animals in the simulation, with pages fully written and with
 * tired ones; and, where a limit was changed, that the numbers are of other limits.
 *
 * @example outsideBudgetNotices({})[0].code // "flags-outside-budget"
 */
export function outsideBudgetNotices(
  changed: Partial<RuleLimits>,
  measured: MeasuredRuleRates = measuredRuleRates,
): readonly Notice[] {
  const full = measured.worlds.find((w) => w.pages === "full");
  const tired = measured.worlds.find((w) => w.pages === "tired");
  if (full === undefined || tired === undefined) return [];
  const others = (Object.keys(changed) as (keyof RuleLimits)[]).filter(
    (name) => changed[name] !== undefined && changed[name] !== defaultRuleLimits[name],
  );
  return [
    ...levelRates(),
    notice("flags-outside-budget", "info", {
      animals: full.animals,
      practice: full.practice.per100Weeks,
      practiceLow: full.practice.low,
      practiceHigh: full.practice.high,
      danger: full.afterArrival.danger.per100Weeks,
      list: full.list.per100Weeks,
      listLow: full.list.low,
      listHigh: full.list.high,
      tiredPractice: tired.practice.per100Weeks,
      tiredList: tired.list.per100Weeks,
    }),
    ...(others.length === 0
      ? []
      : [notice("flags-outside-budget-other-limits", "caution", { limits: others })]),
  ];
}

/** How often the levels named healthy animals, and whether what was planted stood. */
function levelRates(): readonly Notice[] {
  const full = measuredLevelRates.worlds.find((w) => w.pages === "full");
  const tired = measuredLevelRates.worlds.find((w) => w.pages === "tired");
  if (full === undefined || tired === undefined) return [];
  return [
    notice("levels-measured", "info", {
      weeks: full.animalWeeks,
      danger: full.dangerPer100Weeks,
      upTo: full.upTo,
      measure: full.measureFirstPct,
      tiredDanger: tired.dangerPer100Weeks,
      tiredUpTo: tired.upTo,
      tiredMeasure: tired.measureFirstPct,
      planted: full.planted + tired.planted,
      found: full.found + tired.found,
    }),
  ];
}
