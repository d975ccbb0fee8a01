import { notice } from "../../core/notice.js";
import { median } from "../../stats/descriptive/median.js";
import type { RivalExplanation } from "./explanation.js";
import type { OtherAnimal, SlowGainerCase } from "./slow-gainer-case.js";
import { clearOverBend } from "./step-in-course.js";

/** Below this share of its contemporaries' median mass it is small. */
const smallBelow = 0.92;
/**
 * Share of gain that may be missing of a healthy one, against the others and against its
 * own earlier gain: clearly below the quarter from which on an animal is called slow.
 */
const keepsPace = 0.2;

/**
 * Is it small and growing as the others grow? Only where no gain is missing, and
 * nothing was seen of it: a small animal that slows is a slow one.
 */
export function smallButHealthy(c: SlowGainerCase): RivalExplanation {
  const id = { animal: c.animal.animalId };
  const { slow, share } = c.deficit;
  const theirs = median(c.others.flatMap((o) => massAtItsAge(c, o)));
  const bare = { rival: "small but healthy", speaksFor: [], speaksAgainst: [], ask: [] } as const;
  if (slow === "cannot be told" || c.now.massG === null || theirs === null || c.others.length < 3) {
    return {
      ...bare,
      verdict: "cannot be told",
      ask: [notice("rival-small-unknown", "info", { ...id, n: c.others.length })],
      weight: 0,
    };
  }
  const p = {
    ...id,
    mass: c.now.massG,
    others: theirs,
    gain: c.now.gainPct,
    expected: c.deficit.expectedPct,
    n: c.others.length,
  };
  if (slow === "slow" || slow === "loses") {
    return {
      ...bare,
      verdict: "speaks against",
      speaksAgainst: [notice("rival-small-slow", "info", p)],
      weight: 0,
    };
  }
  const steady =
    (share ?? 0) < keepsPace &&
    (c.deficit.ownShare ?? 0) < keepsPace &&
    !c.fall.shared &&
    c.step === null &&
    (c.ownStep === null || c.ownStep.step > 0 || c.ownStep.overBend < clearOverBend);
  const small = c.now.massG < smallBelow * theirs;
  return {
    ...bare,
    verdict: small && steady ? "likely" : "possible",
    speaksFor: [notice(small ? "rival-small-keeps-pace" : "rival-keeps-pace", "info", p)],
    weight: small ? 1 : 0.5,
  };
}

/** What another would weigh at this one's age, at its own gain: a fortnight of age is a fifth of the mass. */
function massAtItsAge(c: SlowGainerCase, o: OtherAnimal): readonly number[] {
  const { massG, gainPct } = o.now;
  if (massG === null) return [];
  const other = c.analysis.animals.find((a) => a.animalId === o.animalId);
  const own = c.animal.last?.ageD ?? null;
  const theirs = o.inCare ? (other?.last?.ageD ?? null) : own;
  return [
    massG * Math.exp(((gainPct ?? 0) / 100) * (own === null || theirs === null ? 0 : own - theirs)),
  ];
}
