import { measured } from "../../core/measured.js";
import { notice } from "../../core/notice.js";
import type { NetWeighing } from "../../series/animal-series.js";
import { conditionErrors, scaleErrorG } from "../../series/condition.js";
import { rowsBetween } from "../../series/rows-between.js";
import type { FeedingDaySpan } from "../../units/calendar.js";
import { hourMs } from "../../units/hour-ms.js";
import type { NotJudged } from "../animal-day/flag.js";
import type { PreparedAnimal } from "../animal-day/prepared-animal.js";
import type { Signal } from "../animal-day/signal.js";
import type { RuleLimits } from "./rule-limits.js";
import { ruleSignal } from "./rule-signal.js";

/**
 * Two scales that disagree on the same animal: weighings within a few hours on
 * different scales, in the same state of coat and meal, whose net masses differ by
 * more than their stated errors allow.
 */
export function scalesSignal(
  animal: PreparedAnimal,
  span: FeedingDaySpan,
  limits: RuleLimits,
): readonly (Signal | NotJudged)[] {
  if (limits.scalesZ === null) return [];
  const today = rowsBetween(animal.series.weighings, span.from, span.to).filter(
    (w) => w.netG !== null && w.row.scaleId !== null,
  );
  let worst: { z: number; error: number; a: NetWeighing; b: NetWeighing } | null = null;
  for (let i = 0; i < today.length; i++) {
    for (let j = i + 1; j < today.length; j++) {
      const a = today[i]!;
      const b = today[j]!;
      if (a.row.scaleId === b.row.scaleId || b.at - a.at > limits.scalesWithinH * hourMs) continue;
      // A meal or a wet coat between the two is no disagreement of scales.
      if (a.row.meal !== b.row.meal || a.row.coat !== b.row.coat) continue;
      const error = Math.hypot(
        scaleErrorG(a.row, animal.settings),
        scaleErrorG(b.row, animal.settings),
        conditionErrors.usual * a.netG!,
      );
      const z = Math.abs(a.netG! - b.netG!) / error;
      if (worst === null || z > worst.z) worst = { z, error, a, b };
    }
  }
  if (worst === null) {
    const why = notice("flag-one-scale", "info", { animal: animal.id });
    return [{ kind: "scales disagree", why }];
  }
  const { z, error, a, b } = worst;
  return [
    ruleSignal({
      class: "practice",
      kind: "scales disagree",
      direction: "high",
      raised: z >= limits.scalesZ,
      strength: z / limits.scalesZ,
      value: measured(b.netG! - a.netG!, "g", { se: error }),
      threshold: limits.scalesZ * error,
      evidence: {
        firstScale: a.row.scaleId,
        firstG: a.netG,
        secondScale: b.row.scaleId,
        secondG: b.netG,
        hours: (b.at - a.at) / hourMs,
      },
      sentence: notice("flag-scales-disagree", "info", {
        animal: animal.id,
        first: a.row.scaleId,
        second: b.row.scaleId,
        difference: b.netG! - a.netG!,
      }),
    }),
  ];
}
