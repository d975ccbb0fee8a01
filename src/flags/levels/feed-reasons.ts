import { notice } from "../../core/notice.js";
import { bandAt } from "../../species/age-band.js";
import { dayMs } from "../../units/day-ms.js";
import { hourMs } from "../../units/hour-ms.js";
import { feedGapSignal } from "../rules/feed-gap-signal.js";
import type { LevelReason } from "./level.js";
import type { LevelCase } from "./level-case.js";
import { makeReason } from "./make-reason.js";

/**
 * What the feeds of the last 24 h raise: none for its longest usual pause, a quarter of
 * it, and two more of its intervals (danger: three feeds missing in a row), or one more
 * (looked at: a feed missed or not written), none since admission; a feed far above
 * bounds, by its worse meaning where it is doubted. A refusal left blank is no danger.
 */
export function feedReasons(c: LevelCase): LevelReason[] {
  return [...gaps(c), ...neverFed(c), ...farAbove(c), ...doubted(c)];
}

function gaps(c: LevelCase): LevelReason[] {
  const { at, limits, heard } = c;
  const { zone, feedingDayStartHour: startHour } = c.settings;
  const span = { day: "", from: at - dayMs, to: at + 1, hours: 24, zone, startHour };
  const written = { ...c.written, until: () => heard };
  return feedGapSignal(c.prepared, span, c.ageD, written, limits).flatMap((found) => {
    if (!("raised" in found) || !found.raised) return [];
    if (found.kind !== "no feed" && found.kind !== "missed feed") return [];
    const { gapH, fromAt, usualH, refused, running } = found.evidence;
    const isDanger = found.kind === "no feed";
    const parameters = {
      animal: c.series.animal.animalId,
      hours: gapH,
      from: fromAt,
      limit: found.threshold,
      refused,
      running,
      danger: isDanger,
    };
    const go = running ? "go and look now" : null;
    return [
      makeReason({
        level: isDanger ? "danger" : "second look",
        what: found.kind,
        sentence: notice("level-no-feed", isDanger ? "problem" : "caution", parameters),
        at: fromAt,
        act: isDanger ? "call now, feed as ordered" : go,
        byAt: isDanger || running ? at : null,
        size: { value: gapH, unit: "h", outwards: "higher", step: usualH },
      }),
    ];
  });
}

/** No feed at all since it came, while it is known that feeds are written. */
function neverFed(c: LevelCase): LevelReason[] {
  const { series, heard, limits } = c;
  const { animalId, admittedAt } = series.animal;
  if (c.prepared.feedAt.length > 0 || admittedAt === null || limits.noFeedTimes === null) return [];
  if (series.orders.steps.length === 0 && !c.feedsAreWritten) return [];
  const bands = c.profile.feedingRhythm;
  const own = bandAt(bands, c.ageD);
  const every = (own === null ? bands : [own]).map((band) => band.everyH.range[1]);
  const usual = every.length === 0 ? 6 : Math.max(...every);
  const hours = (heard - admittedAt) / hourMs;
  if (hours <= limits.noFeedTimes * usual || hours > 7 * 24) return [];
  const parameters = {
    animal: animalId,
    hours,
    from: admittedAt,
    limit: limits.noFeedTimes * usual,
    refused: 0,
    running: true,
    danger: true,
  };
  return [
    makeReason({
      level: "danger",
      what: "no feed",
      sentence: notice("level-no-feed", "problem", parameters),
      at: admittedAt,
      act: "call now, feed as ordered",
      byAt: c.at,
      size: { value: hours, unit: "h", outwards: "higher", step: usual },
    }),
  ];
}

/** A feed far above bounds was given, or may have been. */
function farAbove(c: LevelCase): LevelReason[] {
  const bound = c.limits.feedPctOfMass;
  if (bound === null) return [];
  return recent(c).flatMap((f) => {
    const mass = [...c.series.daily].reverse().find((d) => d.at <= f.at) ?? c.series.daily[0];
    if (mass === undefined) return [];
    const fedG = f.slip === undefined ? f.eatenLowG : Math.max(f.eatenLowG, f.eatenHighG);
    const pct = (100 * fedG) / mass.massG;
    if (pct <= bound) return [];
    const parameters = {
      animal: c.series.animal.animalId,
      at: f.at,
      fed: fedG,
      pct,
      bound,
      doubted: f.slip !== undefined,
    };
    return [
      makeReason({
        level: "danger",
        what: "feed far above bounds",
        sentence: notice("level-feed-above", "problem", parameters),
        at: f.at,
        act: "do not feed until spoken",
        byAt: c.at,
        size: { value: pct, unit: "% of mass", outwards: "higher", step: 1 },
      }),
    ];
  });
}

/** A feed that looks like a slip of the pen is asked about; suggestions wait for it. */
function doubted(c: LevelCase): LevelReason[] {
  const own = recent(c).filter((f) => f.slip !== undefined);
  const last = own.at(-1);
  if (last === undefined) return [];
  return [
    makeReason({
      level: "second look",
      what: "feed in doubt",
      sentence: notice("hold-feed-suspected", "caution", {
        animal: c.series.animal.animalId,
        offered: last.offeredG,
        at: last.at,
        low: last.eatenLowG,
        high: last.eatenHighG,
      }),
      at: last.at,
      suggestionsWait: true,
    }),
  ];
}

const recent = (c: LevelCase) => c.series.feeds.filter((f) => f.at > c.at - dayMs && f.at <= c.at);
