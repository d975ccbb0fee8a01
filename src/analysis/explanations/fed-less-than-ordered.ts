import { notice } from "../../core/notice.js";
import { median } from "../../stats/descriptive/median.js";
import type { RivalExplanation } from "./explanation.js";
import type { SlowGainerCase } from "./slow-gainer-case.js";
import { verdictOfDrop } from "./verdict-of-drop.js";

/**
 * Did it eat less than was ordered, and less of it than before (else than the
 * others do)? A usual refusal explains nothing: only a larger one does.
 */
export function fedLessThanOrdered(c: SlowGainerCase): RivalExplanation {
  const own = c.now.eatenOfOrdered;
  const id = { animal: c.animal.animalId };
  if (own === null) {
    return {
      rival: "fed less than ordered",
      verdict: "cannot be told",
      speaksFor: [],
      speaksAgainst: [],
      ask: [notice("rival-fed-no-order", "caution", { ...id, days: c.days })],
      weight: 0,
    };
  }
  const others = c.others.flatMap((o) => o.now.eatenOfOrdered ?? []);
  const theirs = median(others.map((o) => (o.low + o.high) / 2));
  const earlier = c.before?.eatenOfOrdered ?? null;
  // Like is held against like: the least that was eaten against the least before, and the most.
  const usual =
    earlier === null ? { low: Math.min(1, theirs ?? 1), high: Math.min(1, theirs ?? 1) } : earlier;
  const drops = [1 - own.high / usual.high, 1 - own.low / usual.low].sort((a, b) => a - b);
  const drop = { low: drops[0]!, high: drops[1]! };
  // Whatever was left unwritten, it must have eaten less to be more than possible.
  const surely = 1 - own.high / usual.low > 0.02;
  const asked = verdictOfDrop(drop, c);
  const judged: typeof asked =
    asked.verdict === "likely" && !surely ? { ...asked, verdict: "possible" } : asked;
  const p = {
    ...id,
    from: c.from,
    low: 100 * own.low,
    high: 100 * own.high,
    before: earlier === null ? null : 100 * earlier.low,
    others: theirs === null ? null : 100 * theirs,
  };
  const sentence = notice(
    judged.verdict === "speaks against" ? "rival-fed-as-ordered" : "rival-fed-less",
    judged.verdict === "likely" ? "caution" : "info",
    p,
  );
  return {
    rival: "fed less than ordered",
    verdict: judged.verdict,
    speaksFor: judged.verdict === "speaks against" ? [] : [sentence],
    speaksAgainst: judged.verdict === "speaks against" ? [sentence] : [],
    ask:
      judged.verdict === "speaks against"
        ? []
        : [notice(own.low < own.high ? "rival-fed-ask-refusals" : "rival-fed-ask", "info", id)],
    weight: judged.weight,
  };
}
