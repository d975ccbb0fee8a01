import { notice } from "../../core/notice.js";
import type { Sign } from "../../series/signs/sign.js";
import { signKindOf } from "../../series/signs/sign-table.js";
import { dayMs } from "../../units/day-ms.js";
import { hourMs } from "../../units/hour-ms.js";
import { inWrittenDigits } from "../../units/in-written-digits.js";
import type { LevelReason } from "./level.js";
import type { LevelCase } from "./level-case.js";
import { makeReason } from "./make-reason.js";
import { oldAfterH } from "./old-after.js";

/**
 * What temperatures raise: danger where one of the last 24 h, or the last one however
 * old, lies outside the range by more than a thermometer may err; a look inside that
 * margin; "temperature first" in the very young where the last is missing, old or
 * unreadable. Several, or several meanings: the worst decides. Without a range of
 * the species, bounds of common practice.
 */
export function temperatureReasons(c: LevelCase): LevelReason[] {
  const taken = c.series.signs.filter((s) => s.kind === "temperature" && s.state !== "not looked");
  const read = taken.filter((s) => s.measure !== null);
  const last = read.at(-1) ?? null;
  const found = outside(
    c,
    [...read, ...inWords(c)].sort((a, b) => a.at - b.at),
  );
  return [
    ...found,
    ...(found.length > 0 ? [] : trend(c, read)),
    ...doubted(c, taken, last),
    ...first(c, last),
  ];
}

/** What a thermometer can show of an animal at all, °C. */
const { possible } = signKindOf("temperature").measuring!;

/** Temperatures that stand in notes: in doubt, and good for nothing but a danger. */
function inWords(c: LevelCase): Sign[] {
  return c.series.signs.flatMap((s) =>
    (s.saidInWords ?? [])
      .filter((said) => said.kind === "temperature")
      .map(({ measure }) => ({ ...s, measure, sure: false })),
  );
}

function outside(c: LevelCase, read: readonly Sign[]): LevelReason[] {
  const last = read.at(-1);
  if (last === undefined) return [];
  const { limits, profile, at } = c;
  const own = profile.bodyTemperature;
  const margin = own === null ? 0 : (limits.temperatureMarginC ?? null);
  const range = own?.range ?? limits.temperatureWithoutRangeC;
  if (margin === null || range === null) return [];
  const recent = read.filter((s) => s.at > at - dayMs || s.at === last.at);
  const worst = recent
    .flatMap((sign) => {
      const { low, high } = sign.measure!;
      return [
        { sign, what: "cold" as const, degC: low, beyond: inWrittenDigits(range[0] - low) },
        { sign, what: "hot" as const, degC: high, beyond: inWrittenDigits(high - range[1]) },
      ];
    })
    .reduce((a, b) => (b.beyond > a.beyond ? b : a));
  if (!(worst.beyond > 0)) return [];
  const { sign, what, degC, beyond } = worst;
  const isDanger = beyond > margin;
  const parameters = {
    animal: c.series.animal.animalId,
    what,
    degC,
    from: sign.measure!.low,
    to: sign.measure!.high,
    written: sign.written,
    at: sign.at,
    inDoubt: !sign.sure,
    low: range[0],
    high: range[1],
    margin,
    danger: isDanger,
    // "Lo" and "<36" have no number of their own.
    known: degC !== possible[0] && degC !== possible[1],
    source: own === null ? "common practice, no range is known for the species" : own.source,
  };
  const sentence = notice("level-temperature", isDanger ? "problem" : "caution", parameters);
  if (!isDanger) return [makeReason({ level: "second look", what, sentence, at: sign.at })];
  return [
    makeReason({
      level: "danger",
      what,
      sentence,
      at: sign.at,
      act: what === "cold" ? "do not feed until spoken" : "call now, feed as ordered",
      byAt: at,
      size: {
        value: degC,
        unit: "degC",
        outwards: what === "cold" ? "lower" : "higher",
        step: 0.3,
      },
    }),
  ];
}

/** So many readings in a row that only rise or only fall, over at most so long, are a trend. */
const trendOf = { readings: 4, withinD: 3, leastC: 0.5 } as const;

/** Inside the range, but going one way through half of it (own choice, no source): looked at. */
function trend(c: LevelCase, read: readonly Sign[]): LevelReason[] {
  const sure = read.filter((s) => s.sure && s.at > c.at - trendOf.withinD * dayMs);
  const own = sure.slice(-trendOf.readings);
  if (own.length < trendOf.readings || own.at(-1)!.at <= c.at - dayMs) return [];
  const steps = own.slice(1).map((s, i) => s.measure!.low - own[i]!.measure!.low);
  const change = steps.reduce((a, b) => a + b, 0);
  const range = c.profile.bodyTemperature?.range;
  const least = Math.max(trendOf.leastC, range === undefined ? 0 : (range[1] - range[0]) / 2);
  if (!steps.every((d) => d > 0) && !steps.every((d) => d < 0)) return [];
  if (Math.abs(change) < least) return [];
  const parameters = {
    animal: c.series.animal.animalId,
    n: own.length,
    from: own[0]!.measure!.low,
    to: own.at(-1)!.measure!.low,
    since: own[0]!.at,
  };
  return [
    makeReason({
      level: "second look",
      what: "temperature trend",
      sentence: notice("level-temperature-trend", "caution", parameters),
      at: own.at(-1)!.at,
      size: {
        value: Math.abs(change),
        unit: "degC",
        outwards: "higher",
        step: 0.3,
      },
    }),
  ];
}

/** A reading that cannot be read or is asked about, unless a sure one is newer. */
function doubted(c: LevelCase, taken: readonly Sign[], last: Sign | null): LevelReason[] {
  const asked = taken.filter((s) => s.question !== null).at(-1);
  if (asked === undefined || (last?.sure && last.at > asked.at)) return [];
  return [
    makeReason({
      level: "measure first",
      what: "temperature in doubt",
      sentence: notice("level-temperature-doubted", "caution", {
        animal: c.series.animal.animalId,
        written: asked.written,
        at: asked.at,
        under: coldUnder(c),
      }),
      at: asked.at,
      byAt: c.nextFeedAt ?? c.at,
    }),
  ];
}

/** Below which it is cold, °C; null where nobody knows. */
function coldUnder({ profile, limits }: LevelCase): number | null {
  const range = profile.bodyTemperature?.range ?? limits.temperatureWithoutRangeC;
  const margin = profile.bodyTemperature === null ? 0 : (limits.temperatureMarginC ?? 0);
  return range === null ? null : range[0] - margin;
}

function first(c: LevelCase, last: Sign | null): LevelReason[] {
  const { limits, at } = c;
  const { animalId, admittedAt } = c.series.animal;
  if (limits.temperatureH === null || !c.veryYoung) return [];
  // Of a species nobody knows (a chick), where nobody ever took one: no rule of ours.
  if (c.profile.bodyTemperature === null && !c.temperaturesAreWritten) return [];
  const taken = c.series.signs.filter((s) => s.kind === "temperature" && s.measure !== null);
  const limit = oldAfterH(
    taken.map((s) => s.at),
    at,
    {
      leastH: limits.temperatureH,
      mostH: limits.temperatureMostH,
      intervals: limits.oldAfterIntervals,
    },
  );
  const hours = last === null ? null : (at - last.at) / hourMs;
  if (hours !== null && hours <= limit) return [];
  return [
    makeReason({
      level: "measure first",
      what: "temperature first",
      sentence: notice("level-temperature-first", "caution", {
        animal: animalId,
        hours,
        limit,
        under: coldUnder(c),
      }),
      at: last?.at ?? admittedAt ?? at,
      byAt: c.nextFeedAt ?? at,
    }),
  ];
}
