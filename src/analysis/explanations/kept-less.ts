import { notice } from "../../core/notice.js";
import type { SeriesFeed } from "../../series/animal-series.js";
import { mayBePresent, type Sign } from "../../series/signs/sign.js";
import { feedingDaySpan } from "../../units/calendar.js";
import type { RivalExplanation } from "./explanation.js";
import type { SlowGainerCase } from "./slow-gainer-case.js";
import type { Range } from "./spell.js";
import { verdictOfDrop } from "./verdict-of-drop.js";

/** What was eaten in these hours before a vomit is the most that can have come up. */
const hoursBefore = 6;

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
    low: 100 * up.share.low,
    high: 100 * up.share.high,
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
  const { from } = feedingDaySpan(c.from, zone, feedingDayStartHour);
  const { to } = feedingDaySpan(c.to, zone, feedingDayStartHour);
  const { feeds, signs } = c.animal.series;
  const within = feeds.filter((f) => f.at >= from && f.at < to);
  const events = signs.filter(
    (s) =>
      (s.kind === "vomit" || s.kind === "regurgitation") &&
      mayBePresent(s) &&
      s.at >= from &&
      s.at < to,
  );
  const eaten = { low: total(within, "eatenLowG"), high: total(within, "eatenHighG") };
  let low = 0;
  let high = 0;
  for (const s of events) {
    const amount = s.amount?.value ?? null;
    low += amount ?? 0;
    high += amount ?? eatenBefore(within, s);
  }
  return {
    times: events.reduce((n, s) => n + (s.count ?? 1), 0),
    // Any line of what was seen in these days: nobody writes that nothing came up.
    lookedFor: signs.some((s) => s.at >= from && s.at < to),
    share:
      eaten.high <= 0 || eaten.low <= 0
        ? null
        : { low: Math.min(1, low / eaten.high), high: Math.min(1, high / eaten.low) },
  };
}

const total = (feeds: readonly SeriesFeed[], of: "eatenLowG" | "eatenHighG") =>
  feeds.reduce((sum, f) => sum + f[of], 0);

const eatenBefore = (feeds: readonly SeriesFeed[], s: Sign) =>
  total(
    feeds.filter((f) => f.at <= s.at && f.at > s.at - hoursBefore * 3_600_000),
    "eatenHighG",
  );
