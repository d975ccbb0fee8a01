import { notice } from "../../core/notice.js";
import { keptIntake } from "../../rates/kept-intake.js";
import { feedingDaySpan } from "../../units/calendar.js";
import type { RivalExplanation } from "./explanation.js";
import type { SlowGainerCase } from "./slow-gainer-case.js";
import type { Range } from "./spell.js";
import { verdictOfDrop } from "./verdict-of-drop.js";

/** Did part of what was eaten come up again? As a range where it was not weighed. */
export function keptLess(c: SlowGainerCase): RivalExplanation {
  const id = { animal: c.animal.animalId };
  const up = cameUp(c);
  const bare = { rival: "kept less", speaksFor: [], speaksAgainst: [], ask: [] } as const;
  if (up.times === 0) {
    const looked = up.lookedFor;
    return {
      ...bare,
      verdict: looked ? "speaks against" : "cannot be told",
      speaksAgainst: looked ? [notice("rival-kept-none", "info", { ...id, from: c.from })] : [],
      ask: looked ? [] : [notice("rival-kept-not-written", "info", id)],
      weight: 0,
    };
  }
  if (up.share === null) {
    return {
      ...bare,
      verdict: "possible",
      speaksFor: [notice("rival-kept-times", "caution", { ...id, from: c.from, times: up.times })],
      ask: [notice("rival-kept-ask", "caution", id)],
      weight: 0.3,
    };
  }
  const judged = verdictOfDrop(up.share, c);
  const said = notice("rival-kept-less", "caution", {
    ...id,
    from: c.from,
    times: up.times,
    low: Math.round(100 * up.share.low),
    high: Math.round(100 * up.share.high),
  });
  const against = judged.verdict === "speaks against";
  return {
    ...bare,
    verdict: judged.verdict,
    speaksFor: against ? [] : [said],
    speaksAgainst: against ? [said] : [],
    ask: [notice("rival-kept-ask", "caution", id)],
    weight: judged.weight,
  };
}

/** How often and how much came up in the window, as a share of what was eaten in it. */
export function cameUp(c: SlowGainerCase): {
  readonly times: number;
  readonly lookedFor: boolean;
  readonly share: Range | null;
} {
  const { zone, feedingDayStartHour } = c.analysis.settings;
  const from = feedingDaySpan(c.from, zone, feedingDayStartHour).from;
  const to = feedingDaySpan(c.to, zone, feedingDayStartHour).to;
  const { series } = c.animal;
  const { eatenG, cameUpG, times } = keptIntake(series, from, to);
  return {
    times,
    // Any line of what was seen in these days: nobody writes that nothing came up.
    lookedFor: series.signs.some((s) => s.at >= from && s.at < to),
    share:
      eatenG.low <= 0 || eatenG.high === null || cameUpG.high === null
        ? null
        : {
            low: Math.min(1, cameUpG.low / eatenG.high),
            high: Math.min(1, cameUpG.high / eatenG.low),
          },
  };
}
