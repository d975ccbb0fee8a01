import { notice } from "../core/notice.js";
import type { ContemporaryZ } from "../reference/z-scores.js";
import type { NotJudged, Signal } from "./flag.js";

/**
 * Turns the z of weight-for-age into a signal. Where the birth range exceeds
 * 3 days, z at the end of the range milder for the animal decides, so that an
 * unknown birthday alone never raises it.
 */
export function levelSignal(
  animal: string,
  z: ContemporaryZ,
  limit: { readonly low: number },
): Signal | NotJudged {
  if (z.z.value === null) return { kind: "level", why: z.z.why! };
  const judged = z.zAtEnds === null ? z.z.value : Math.max(z.z.value, ...z.zAtEnds);
  const raised = judged <= limit.low;
  return {
    kind: "level",
    class: "statistical",
    direction: "low",
    raised,
    strength: Math.max(0, judged / limit.low),
    value: z.z,
    threshold: limit.low,
    evidence: {
      mass_g: z.own,
      contemporaries_centre_g: z.centre,
      contemporaries: z.n,
      standardised_by: z.by,
      z_mildest: judged,
    },
    sentence: notice("flag-level", raised ? "problem" : "info", {
      animal,
      z: z.z.value,
      mass: z.own,
      centre: z.centre,
      n: z.n,
      limit: limit.low,
    }),
  };
}

/**
 * Turns the z of the 7-day gain into a signal: low, or high where the gain is
 * too fast (fluid retention, overfeeding, a wrong tare).
 */
export function gainSignals(
  animal: string,
  z: ContemporaryZ,
  limit: { readonly low: number; readonly high: number },
): readonly (Signal | NotJudged)[] {
  if (z.z.value === null) {
    return [
      { kind: "gain", why: z.z.why! },
      { kind: "too-fast gain", why: z.z.why! },
    ];
  }
  const value = z.z.value;
  const make = (kind: "gain" | "too-fast gain", bound: number): Signal => {
    const raised = kind === "gain" ? value <= bound : value >= bound;
    return {
      kind,
      class: "statistical",
      direction: kind === "gain" ? "low" : "high",
      raised,
      strength: Math.max(0, value / bound),
      value: z.z,
      threshold: bound,
      evidence: {
        gain_pct_per_d: z.own,
        contemporaries_centre_pct_per_d: z.centre,
        contemporaries: z.n,
        standardised_by: z.by,
      },
      sentence: notice(
        kind === "gain" ? "flag-gain" : "flag-gain-too-fast",
        raised ? "problem" : "info",
        { animal, z: value, gain: z.own, centre: z.centre, n: z.n, limit: bound },
      ),
    };
  };
  return [make("gain", limit.low), make("too-fast gain", limit.high)];
}
