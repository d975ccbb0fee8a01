import { measured } from "../../core/measured.js";
import { notice } from "../../core/notice.js";
import { limitSource } from "../../rates/limit-source.js";
import type { CivilDate, DailyMass } from "../../series/animal-series.js";
import { weighingError } from "../../series/condition.js";
import { daysBetween } from "../../units/calendar.js";
import type { NotJudged } from "../animal-day/flag.js";
import type { PreparedAnimal } from "../animal-day/prepared-animal.js";
import type { Signal } from "../animal-day/signal.js";
import { defaultRuleLimits, type RuleLimits } from "./rule-limits.js";
import { ruleSignal } from "./rule-signal.js";
import { worseReading } from "./worse-reading.js";

interface Fall {
  readonly before: DailyMass;
  readonly nowG: number;
  readonly lossPct: number;
  readonly sePct: number;
  readonly doubted: boolean;
}

/**
 * A fall from one weighed day to the next reading, at most two days apart, also
 * beyond twice its stated error: looked at from the lower limit, a danger from
 * the upper one. A reading under suspicion of a slip stands for no day, but its
 * loss counts by its worse admissible meaning until somebody has weighed again
 * or decided.
 */
export function acuteLossSignal(
  animal: PreparedAnimal,
  day: CivilDate,
  limits: RuleLimits,
): readonly (Signal | NotJudged)[] {
  const { acuteLossPct: danger, lossPct: look } = limits;
  if (danger === null && look === null) return [];
  const falls = fallsOn(animal, day);
  if (falls.length === 0) {
    const why = notice("flag-no-pair", "info", { animal: animal.id, day });
    return kinds(limits).map((kind) => ({ kind, why }));
  }
  // A wet coat or a full stomach the day before must not cry wolf: also 2 stated errors.
  const beyond = (fall: Fall, limit: number) =>
    fall.lossPct >= limit && fall.lossPct >= 2 * fall.sePct;
  const worst = falls.reduce((a, b) => (b.lossPct > a.lossPct ? b : a));
  const isDanger = danger !== null && beyond(worst, danger);
  return kinds(limits).map((kind) => {
    const limit = kind === "acute loss" ? danger! : look!;
    const raised = kind === "acute loss" ? isDanger : !isDanger && beyond(worst, limit);
    const name = kind === "acute loss" ? "acuteLossPct" : "lossPct";
    const source = limitSource(limits, defaultRuleLimits, [name]);
    return signal(animal, kind, worst, { limit, source }, raised);
  });
}

const kinds = (limits: RuleLimits): ("acute loss" | "loss")[] => [
  ...(limits.acuteLossPct === null ? [] : ["acute loss" as const]),
  ...(limits.lossPct === null ? [] : ["loss" as const]),
];

/** From the weighed day before to the day's weighing, and to each doubted reading after that. */
function fallsOn(animal: PreparedAnimal, day: CivilDate): Fall[] {
  const { daily } = animal.series;
  const index = animal.rowOn.get(day);
  const doubted = animal.doubtedOn.get(day) ?? [];
  const falls: Fall[] = [];
  const fall = (
    before: DailyMass | undefined,
    nowG: number,
    errorG: number,
    isDoubted: boolean,
  ) => {
    if (before === undefined || daysBetween(before.feedingDay, day) > 2) return;
    falls.push({
      before,
      nowG,
      lossPct: (100 * (before.massG - nowG)) / before.massG,
      sePct: (100 * Math.hypot(errorG, before.errorG)) / before.massG,
      doubted: isDoubted,
    });
  };
  if (index !== undefined) {
    const now = daily[index]!;
    fall(daily[index - 1], now.massG, now.errorG, false);
  }
  if (doubted.length === 0) return falls;
  for (const w of doubted) {
    // A reading that stands and is newer has answered the doubt.
    if (index !== undefined && daily[index]!.at > w.at) continue;
    const before = index === undefined ? lastBefore(daily, w.at) : daily[index];
    if (before === undefined) continue;
    const nowG = worseReading(w, before.massG);
    if (nowG !== null) fall(before, nowG, weighingError(w.row, nowG, animal.settings), true);
  }
  return falls;
}

function lastBefore(daily: readonly DailyMass[], at: number): DailyMass | undefined {
  let low = 0;
  let high = daily.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (daily[middle]!.at < at) low = middle + 1;
    else high = middle;
  }
  return daily[low - 1];
}

function signal(
  animal: PreparedAnimal,
  kind: "acute loss" | "loss",
  { before, nowG, lossPct, sePct, doubted }: Fall,
  { limit, source }: { readonly limit: number; readonly source: string },
  raised: boolean,
): Signal {
  return ruleSignal({
    class: kind === "acute loss" ? "danger" : "practice",
    kind,
    direction: "low",
    raised,
    strength: Math.max(0, raised ? lossPct / limit : Math.min(lossPct / limit, 0.99)),
    value: measured(lossPct, "%", { se: sePct }),
    threshold: limit,
    evidence: { beforeG: before.massG, nowG, lossG: before.massG - nowG },
    sentence: notice(doubted ? "flag-doubted-loss" : "flag-acute-loss", "info", {
      animal: animal.id,
      loss: lossPct,
      before: before.massG,
      now: nowG,
      beforeDay: before.feedingDay,
      limit,
      source,
      level: kind === "acute loss" ? "danger" : "look",
      raised,
    }),
  });
}
