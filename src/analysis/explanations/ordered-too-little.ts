import { notice } from "../../core/notice.js";
import { median } from "../../stats/descriptive/median.js";
import type { RivalExplanation } from "./explanation.js";
import type { SlowGainerCase } from "./slow-gainer-case.js";
import { verdictOfDrop } from "./verdict-of-drop.js";

/**
 * Was less ordered, for its size, than for the others, or than for itself before?
 * Energy ordered per kg^0.75. Whether the order was right is the veterinarian's.
 */
export function orderedTooLittle(c: SlowGainerCase): RivalExplanation {
  const id = { animal: c.animal.animalId };
  const own = c.now.orderedPerSize;
  const theirs = median(c.others.flatMap((o) => o.now.orderedPerSize ?? []));
  const enough = c.others.filter((o) => o.now.orderedPerSize !== null).length >= 3;
  const earlier = c.before?.orderedPerSize ?? null;
  if (own === null || ((!enough || theirs === null) && earlier === null)) {
    return {
      rival: "ordered too little",
      verdict: "cannot be told",
      speaksFor: [],
      speaksAgainst: [],
      ask: [
        notice(own === null ? "rival-fed-no-order" : "rival-ordered-nobody", "caution", {
          ...id,
          days: c.days,
        }),
      ],
      weight: 0,
    };
  }
  const drops = [
    ...(enough && theirs !== null && theirs > 0 ? [1 - own / theirs] : []),
    ...(earlier !== null && earlier > 0 ? [1 - own / earlier] : []),
  ];
  // Both must say so where both are known; orders differ between animals for good reasons.
  const drop = Math.min(...drops);
  const judged = verdictOfDrop({ low: drop, high: drop }, c);
  const p = {
    ...id,
    own,
    others: enough ? theirs : null,
    before: earlier,
    n: c.others.length,
  };
  const against = judged.verdict === "speaks against";
  const sentence = notice(against ? "rival-ordered-enough" : "rival-ordered-little", "info", p);
  return {
    rival: "ordered too little",
    verdict: judged.verdict,
    speaksFor: against ? [] : [sentence],
    speaksAgainst: against ? [sentence] : [],
    ask: against ? [] : [notice("rival-ordered-ask", "info", id)],
    weight: judged.weight,
  };
}
