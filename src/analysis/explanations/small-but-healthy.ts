import { notice } from "../../core/notice.js";
import { median } from "../../stats/descriptive/median.js";
import type { RivalExplanation } from "./explanation.js";
import type { SlowGainerCase } from "./slow-gainer-case.js";

/** Below this share of its contemporaries' median mass it is small. */
const smallBelow = 0.9;

/**
 * Is it small and growing as the others grow? Only where no gain is missing, and
 * nothing was seen of it: a small animal that slows is a slow one.
 */
export function smallButHealthy(c: SlowGainerCase): RivalExplanation {
  const id = { animal: c.animal.animalId };
  const { slow, share } = c.deficit;
  const theirs = median(c.others.flatMap((o) => o.now.massG ?? []));
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
  const small = c.now.massG < smallBelow * theirs;
  return {
    ...bare,
    verdict: small && (share ?? 0) < 0.2 ? "likely" : "possible",
    speaksFor: [notice(small ? "rival-small-keeps-pace" : "rival-keeps-pace", "info", p)],
    weight: small ? 1 : 0.5,
  };
}
