import { notice } from "../../core/notice.js";
import { type BatchAway, batchesAway } from "../../rates/batch-energy.js";
import { energyOf } from "../../rates/energy-of.js";
import type { RivalExplanation } from "./explanation.js";
import type { SlowGainerCase } from "./slow-gainer-case.js";
import type { Range } from "./spell.js";
import { verdictOfDrop } from "./verdict-of-drop.js";

/** Were batches mixed thinner than their diet? From weighed ingredients and from what is entered on the batch. */
export function thinBatch(c: SlowGainerCase): RivalExplanation {
  const id = { animal: c.animal.animalId };
  const bare = { rival: "thin batch", speaksFor: [], speaksAgainst: [], ask: [] } as const;
  const thin = thinBatchesOf(c);
  if (thin.known < 0.5 && thin.away.length === 0 && thin.notAddedUp.length === 0) {
    return {
      ...bare,
      verdict: "cannot be told",
      ask: [notice("rival-thin-unknown", "info", { ...id, share: 100 * thin.known })],
      weight: 0,
    };
  }
  const notAdded = thin.notAddedUp.map((b) =>
    notice("rival-thin-does-not-add-up", "caution", {
      batch: b.batchId,
      diet: b.dietId,
      weighed: b.weighedG,
      whole: b.wholeG,
    }),
  );
  if (thin.away.length === 0) {
    return {
      ...bare,
      verdict: notAdded.length > 0 ? "possible" : "speaks against",
      speaksFor: notAdded.slice(0, 1),
      speaksAgainst:
        notAdded.length > 0
          ? []
          : [notice("rival-thin-none", "info", { ...id, share: 100 * thin.known })],
      ask: notAdded.length > 0 ? [notice("rival-thin-ask", "caution", id)] : [],
      weight: notAdded.length > 0 ? 0.3 : 0,
    };
  }
  const worst = thin.away.reduce((a, b) => (b.awayPct! < a.awayPct! ? b : a));
  const judged = verdictOfDrop(thin.drop, c);
  const drank = new Set(thin.away.flatMap((b) => b.eatenBy.map((e) => e.animalId)));
  drank.delete(c.animal.animalId);
  const own = thin.away.flatMap((b) => b.eatenBy.filter((e) => e.animalId === c.animal.animalId));
  return {
    ...bare,
    verdict: judged.verdict,
    speaksFor: [
      notice("rival-thin", "problem", {
        ...id,
        n: thin.away.length,
        first: thin.away[0]!.batchId,
        madeOn: thin.away[0]!.madeOn,
        worst: -worst.awayPct!,
        diet: worst.dietId,
        grams: own.reduce((sum, e) => sum + e.eatenHighG, 0),
        drop: 100 * thin.drop.high,
        others: [...drank].sort(),
      }),
      ...notAdded.slice(0, 1),
    ],
    ask: [notice("rival-thin-ask", "caution", id)],
    weight: judged.weight,
  };
}

/** Thin batches that it drank of, and what they cost of the energy that was meant. */
function thinBatchesOf(c: SlowGainerCase): {
  /** Share of what it ate that came from batches with ingredients or numbers of their own. */
  readonly known: number;
  readonly drop: Range;
  readonly away: readonly BatchAway[];
  readonly notAddedUp: readonly BatchAway[];
} {
  const { animal } = c;
  const { series } = c.analysis;
  const feeds = animal.series.feeds.filter(
    (f) => f.feedingDay >= c.from && f.feedingDay < c.to && f.eatenHighG > 0,
  );
  const batches = new Map(series.batches.map((b) => [b.batchId, b]));
  const perG = new Map(
    series.batches.map((b) => [
      b.batchId,
      {
        own: energyOf(b.composition).kcalPerG.value,
        diet: energyOf(b.dietComposition).kcalPerG.value,
      },
    ]),
  );
  let known = 0;
  let all = 0;
  let meant = 0;
  let got = 0;
  for (const f of feeds) {
    const grams = (f.eatenLowG + f.eatenHighG) / 2;
    all += grams;
    const batch = f.row.batchId === null ? undefined : batches.get(f.row.batchId);
    const energy = f.row.batchId === null ? undefined : perG.get(f.row.batchId);
    if (batch === undefined || batch.from === "diet") {
      const diet = f.composition === null ? null : energyOf(f.composition).kcalPerG.value;
      meant += grams * (diet ?? 0);
      got += grams * (diet ?? 0);
      continue;
    }
    known += grams;
    meant += grams * (energy?.diet ?? 0);
    got += grams * (energy?.own ?? energy?.diet ?? 0);
  }
  const drop = meant > 0 ? 1 - got / meant : 0;
  const own = batchesAway(series, { from: c.from, to: c.to }).filter((b) =>
    b.eatenBy.some((e) => e.animalId === animal.animalId && e.eatenHighG > 0),
  );
  return {
    known: all === 0 ? 0 : known / all,
    drop: { low: drop, high: drop },
    away: own.filter((b) => b.awayPct !== null && b.awayPct < 0),
    notAddedUp: own.filter((b) => b.awayPct === null),
  };
}
