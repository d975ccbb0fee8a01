import { measured } from "../../core/measured.js";
import { notice } from "../../core/notice.js";
import type { CivilDate } from "../../series/animal-series.js";
import { daysBetween } from "../../units/calendar.js";
import type { NotJudged } from "../animal-day/flag.js";
import type { PreparedAnimal } from "../animal-day/prepared-animal.js";
import type { Signal } from "../animal-day/signal.js";
import type { RuleLimits } from "./rule-limits.js";
import { ruleSignal } from "./rule-signal.js";

/** A fall from one weighed day to the next, at most two days apart, also beyond twice its stated error. */
export function acuteLossSignal(
  animal: PreparedAnimal,
  day: CivilDate,
  limits: RuleLimits,
): readonly (Signal | NotJudged)[] {
  const limit = limits.acuteLossPct;
  if (limit === null) return [];
  const index = animal.rowOn.get(day);
  const now = index === undefined ? undefined : animal.series.daily[index];
  const before = index === undefined ? undefined : animal.series.daily[index - 1];
  if (!now || !before || daysBetween(before.feedingDay, day) > 2) {
    const why = notice("flag-no-pair", "info", { animal: animal.id, day });
    return [{ kind: "acute loss", why }];
  }
  const loss = 100 * (1 - now.massG / before.massG);
  const se = (100 * Math.hypot(now.errorG, before.errorG)) / before.massG;
  // A wet coat or a full stomach the day before must not cry wolf: also 2 stated errors.
  const raised = loss >= limit && loss >= 2 * se;
  return [
    ruleSignal({
      class: "danger",
      kind: "acute loss",
      direction: "low",
      raised,
      strength: Math.max(0, raised ? loss / limit : Math.min(loss / limit, 0.99)),
      value: measured(loss, "%", { se }),
      threshold: limit,
      evidence: { before_g: before.massG, now_g: now.massG, loss_g: before.massG - now.massG },
      sentence: notice("flag-acute-loss", "info", {
        animal: animal.id,
        loss,
        before: before.massG,
        now: now.massG,
        beforeDay: before.feedingDay,
        limit,
      }),
    }),
  ];
}
