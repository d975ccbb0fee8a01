import { measured } from "../core/measured.js";
import { notice } from "../core/notice.js";
import { gainOverWindow } from "../rates/gain-over-window.js";
import type { CivilDate } from "../series/animal-series.js";
import { addDays, type FeedingDaySpan } from "../units/calendar.js";
import { dayMs } from "../units/day-ms.js";
import type { NotJudged, Signal } from "./flag.js";
import type { PreparedAnimal } from "./prepared-animal.js";
import type { RuleLimits } from "./rule-limits.js";

const hourMs = 3_600_000;

/**
 * No gain for N days (common practice, editable): the slope of the daily mass
 * over the last N days is not above zero.
 */
export function noGainSignal(
  animal: PreparedAnimal,
  day: CivilDate,
  limits: RuleLimits,
): readonly (Signal | NotJudged)[] {
  const days = limits.noGainDays;
  if (days === null) return [];
  const index = animal.rowOn.get(day);
  if (index === undefined) {
    return [
      { kind: "no gain", why: notice("flag-not-weighed", "info", { animal: animal.id, day }) },
    ];
  }
  const window = gainOverWindow(
    animal.series.daily.slice(Math.max(0, index - 3 * days), index + 1),
    {
      days,
    },
  );
  const gain = window.gain.value;
  if (gain === null) return [{ kind: "no gain", why: window.gain.why! }];
  const raised = gain <= 0;
  const se = window.gain.se ?? 0;
  return [
    {
      kind: "no gain",
      class: "practice",
      direction: "low",
      raised,
      strength: raised ? 1 + Math.min(2, Math.abs(gain) / Math.max(se, 1e-9) / 4) : 0,
      value: window.gain,
      threshold: 0,
      evidence: { gain_g_per_d: gain, se_g_per_d: se, days, weighings: window.n },
      sentence: notice("flag-no-gain", raised ? "problem" : "info", {
        animal: animal.id,
        gain,
        se,
        days,
      }),
    },
  ];
}

/**
 * Two scales that disagree on the same animal: weighings within a few hours on
 * different scales whose net masses differ by more than their stated errors allow.
 */
export function scalesSignal(
  animal: PreparedAnimal,
  span: FeedingDaySpan,
  limits: RuleLimits,
): readonly (Signal | NotJudged)[] {
  if (limits.scalesZ === null) return [];
  const today = animal.series.weighings.filter(
    (w) => w.at >= span.from && w.at < span.to && w.netG !== null && w.row.scaleId !== null,
  );
  let worst: { z: number; a: (typeof today)[number]; b: (typeof today)[number] } | null = null;
  for (let i = 0; i < today.length; i++) {
    for (let j = i + 1; j < today.length; j++) {
      const a = today[i]!;
      const b = today[j]!;
      if (a.row.scaleId === b.row.scaleId || b.at - a.at > limits.scalesWithinH * hourMs) continue;
      // A meal or a wet coat between the two is no disagreement of scales.
      if (a.row.meal !== b.row.meal || a.row.coat !== b.row.coat) continue;
      const error = Math.hypot(
        scaleError(animal, a.row),
        scaleError(animal, b.row),
        0.007 * a.netG!,
      );
      const z = Math.abs(a.netG! - b.netG!) / error;
      if (worst === null || z > worst.z) worst = { z, a, b };
    }
  }
  if (worst === null) {
    return [
      { kind: "scales disagree", why: notice("flag-one-scale", "info", { animal: animal.id }) },
    ];
  }
  const { z, a, b } = worst;
  const raised = z >= limits.scalesZ;
  return [
    {
      kind: "scales disagree",
      class: "practice",
      direction: "high",
      raised,
      strength: z / limits.scalesZ,
      value: measured(b.netG! - a.netG!, "g", {
        se: Math.abs(b.netG! - a.netG!) / Math.max(z, 1e-9),
      }),
      threshold: limits.scalesZ,
      evidence: {
        first_scale: a.row.scaleId,
        first_g: a.netG,
        second_scale: b.row.scaleId,
        second_g: b.netG,
        hours_h: (b.at - a.at) / hourMs,
      },
      sentence: notice("flag-scales-disagree", raised ? "problem" : "info", {
        animal: animal.id,
        first: a.row.scaleId,
        second: b.row.scaleId,
        difference: b.netG! - a.netG!,
      }),
    },
  ];
}

function scaleError(
  animal: PreparedAnimal,
  row: { readonly scaleId: string | null; readonly massG: number },
) {
  const named = row.scaleId === null ? undefined : animal.settings.scaleErrorG[row.scaleId];
  return named ?? Math.max(1, 0.002 * row.massG);
}

/** Gain per 1000 kcal over the last 14 full days: what conversion is compared by. Null where unknown. */
export function gainPer1000Kcal(animal: PreparedAnimal, onDay: CivilDate): number | null {
  const index = animal.rowOn.get(onDay);
  if (index === undefined) return null;
  const gain = gainOverWindow(animal.series.daily.slice(Math.max(0, index - 30), index + 1), {
    days: 14,
    minimumWeighings: 7,
  }).gain.value;
  if (gain === null) return null;
  let kcal = 0;
  let days = 0;
  for (let back = 1; back <= 14; back++) {
    const d = animal.intake.get(addDays(onDay, -back));
    if (d === undefined || d.feeds === 0 || d.kcal.value === null) continue;
    kcal += (d.kcal.value * dayMs) / (d.to - d.from);
    days++;
  }
  return days >= 10 && kcal > 0 ? (1000 * gain) / (kcal / days) : null;
}

/** Conversion against contemporaries: gain per 1000 kcal below a share of their median. */
export function conversionSignal(
  id: string,
  own: number | null,
  others: readonly number[],
  limits: RuleLimits,
): readonly (Signal | NotJudged)[] {
  if (limits.conversionPct === null) return [];
  if (own === null || others.length < 3) {
    const why = notice("flag-no-conversion", "info", { animal: id, n: others.length });
    return [{ kind: "conversion", why }];
  }
  const sorted = others.slice().sort((a, b) => a - b);
  const k = sorted.length;
  const middle = k % 2 === 1 ? sorted[(k - 1) / 2]! : (sorted[k / 2 - 1]! + sorted[k / 2]!) / 2;
  if (!(middle > 0)) {
    const why = notice("flag-no-conversion", "info", { animal: id, n: k });
    return [{ kind: "conversion", why }];
  }
  const share = (100 * own) / middle;
  const limit = limits.conversionPct;
  const raised = share < limit;
  return [
    {
      kind: "conversion",
      class: "practice",
      direction: "low",
      raised,
      strength: raised ? Math.min(3, 1 + (limit - share) / 100) : limit / Math.max(share, 1),
      value: measured(own, "g per 1000 kcal", { n: k }),
      threshold: (limit / 100) * middle,
      evidence: {
        own_g_per_1000_kcal: own,
        contemporaries_g_per_1000_kcal: middle,
        contemporaries: k,
      },
      sentence: notice("flag-conversion", raised ? "problem" : "info", {
        animal: id,
        own,
        middle,
        n: k,
        share,
        limit,
      }),
    },
  ];
}
