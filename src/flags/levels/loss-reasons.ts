import { notice } from "../../core/notice.js";
import { limitSource } from "../../rates/limit-source.js";
import { phasesOf } from "../../rates/phases-of.js";
import type { Instant, NetWeighing } from "../../series/animal-series.js";
import { conditionErrors, conditionOf, scaleErrorG } from "../../series/condition.js";
import { dayMs } from "../../units/day-ms.js";
import { worseReading } from "../rules/worse-reading.js";
import type { LevelReason } from "./level.js";
import type { LevelCase } from "./level-case.js";
import { defaultLevelLimits } from "./level-limits.js";
import { fastReferences, type LossReference, settledReferences } from "./loss-references.js";
import { makeReason } from "./make-reason.js";

interface Latest {
  readonly massG: number;
  readonly at: Instant;
  readonly scalePct: number;
  readonly unusualPct: number;
  readonly doubted: boolean;
}

/**
 * Loss of mass, alone and in every phase: the latest reading against admission, birth,
 * the best smoothed level of 14 days and the weighed day before; in a fast or a moult
 * against its own course, its beginning and the veterinarian's floor. Danger counts
 * the scale's error against the animal (two standard errors of both readings); a look
 * does not. A wet coat or a full stomach at either must be exceeded twice. A reading
 * in doubt counts by its worse admissible meaning.
 */
export function lossReasons(c: LevelCase): LevelReason[] {
  const latest = latestOf(c);
  if (latest === null) return [];
  const fast = inFast(c);
  const before = c.series.daily.filter((d) => d.at < latest.at);
  const references =
    fast === null || fast.to !== null
      ? settledReferences(before, latest.at, fast?.to)
      : fastReferences(before, fast, c, latest);
  const judged = references.flatMap((r) => judge(c, latest, r));
  const floor = fast === null || fast.to !== null ? [] : belowFloor(c, latest);
  return [...judged, ...floor]
    .sort((a, b) => (b.size?.value ?? 0) - (a.size?.value ?? 0))
    .slice(0, 1);
}

/** Whether it can be judged at all: two masses, the last of them no older than two days. */
export function lossIsJudged(c: LevelCase): boolean {
  const { daily } = c.series;
  return daily.length >= 2 && c.at - daily.at(-1)!.at < 2 * dayMs;
}

function latestOf(c: LevelCase): Latest | null {
  const { weighings, daily } = c.series;
  const stands = daily.at(-1) ?? null;
  const sure = weighings.filter((w) => w.slip === null && w.netG !== null && w.netG > 0);
  // Weighed again in no unusual condition: that answers what stood for the day.
  const again = sure.filter((w) => conditionOf(w.row) !== "unusual").at(-1);
  const own = stands === null ? undefined : sure.find((w) => w.at === stands.at);
  const newest = again !== undefined && again.at >= (stands?.at ?? 0) ? again : own;
  if (newest === undefined || stands === null) return null;
  const latest = readingOf(c, newest, newest.netG!, false);
  // What came after it counts by its worse meaning: in doubt, or lighter for all its wet coat.
  const worse = weighings.flatMap((w): Latest[] => {
    if (w.netG === null || w.at <= newest.at) return [];
    if (w.slip === null) return w.netG > 0 ? [readingOf(c, w, w.netG, false)] : [];
    const massG = worseReading(w, stands.massG);
    return massG === null ? [] : [readingOf(c, w, massG, true)];
  });
  return worse.reduce((a, b) => (b.massG < a.massG ? b : a), latest);
}

function readingOf(c: LevelCase, w: NetWeighing, massG: number, doubted: boolean): Latest {
  const scalePct = (100 * scaleErrorG(w.row, c.settings)) / massG;
  return { massG, at: w.at, scalePct, unusualPct: unusualPct(w), doubted };
}

/** What an unusual condition may add, % of mass; nothing written speaks for none. */
function unusualPct({ row }: NetWeighing): number {
  const coat = row.coat === "wet" || row.coat === "damp" ? conditionErrors[row.coat] : 0;
  const meal = row.meal === "after" ? conditionErrors["after a meal"] : 0;
  return 100 * Math.hypot(coat, meal);
}

function judge(c: LevelCase, latest: Latest, r: LossReference): LevelReason[] {
  const [look, danger] = r.limits ?? [c.limits.lossPct, c.limits.acuteLossPct];
  const lossPct = (100 * (r.massG - latest.massG)) / r.massG;
  const w = c.series.weighings.find((each) => each.at === r.at && each.slip === null);
  const scale = w === undefined ? 0.2 : (100 * scaleErrorG(w.row, c.settings)) / r.massG;
  const scalePct = Math.hypot(latest.scalePct, r.ofThree ? 0.67 * scale : scale);
  const coverPct = Math.hypot(latest.unusualPct, w === undefined ? 0 : unusualPct(w));
  if (lossPct < 2 * coverPct) return [];
  const isDanger = danger !== null && lossPct + 2 * scalePct >= danger;
  if (!isDanger && (look === null || lossPct < (agrees(c, latest, r, look) ? 0.9 : 1) * look))
    return [];
  const parameters = {
    animal: c.series.animal.animalId,
    now: latest.massG,
    at: latest.at,
    loss: lossPct,
    from: r.from,
    before: r.massG,
    beforeAt: r.at,
    limit: isDanger ? danger : look!,
    source: limitSource(c.limits, defaultLevelLimits, [
      r.limits !== undefined ? "fastLossPct" : isDanger ? "acuteLossPct" : "lossPct",
    ]),
    danger: isDanger,
    doubted: latest.doubted,
  };
  return [
    makeReason({
      level: isDanger ? "danger" : "second look",
      what: "loss",
      sentence: notice("level-loss", isDanger ? "problem" : "caution", parameters),
      at: latest.at,
      act: isDanger ? "call now, feed as ordered" : null,
      byAt: isDanger ? c.at : null,
      size: { value: lossPct, unit: "% of mass", outwards: "higher", step: 1 },
    }),
  ];
}

/**
 * Whether the reading before agrees: the mean of both losses is four fifths of what is
 * looked at. Two readings that agree err less than one, so nine tenths of it are enough;
 * of an animal that loses 1.8 % a day this finds 97 in 100 by the fourth day for 95.
 */
function agrees(c: LevelCase, latest: Latest, r: LossReference, look: number): boolean {
  const before = c.series.daily.filter((d) => d.at < latest.at && d.at > r.at).at(-1);
  if (before === undefined || latest.at - before.at > 2.25 * dayMs) return false;
  const mean = (latest.massG + before.massG) / 2;
  return (100 * (r.massG - mean)) / r.massG >= 0.8 * look;
}

/** Its fast after weaning or its recorded moult, `to` null while it lasts; null where it had neither. */
function inFast(c: LevelCase): { readonly from: Instant; readonly to: Instant | null } | null {
  const { series, profile, settings, at } = c;
  const mayFast = profile.postWeaningFast !== null;
  const mayMoult = series.signs.some((s) => s.kind === "milestone");
  if (!mayFast && !mayMoult) return null;
  const { phases, moult } = phasesOf(series, { settings, profile, endAt: at }).value;
  const spans = [
    ...(moult === null ? [] : [moult]),
    ...phases.filter((p) => p.phase === "post-weaning fast"),
  ].filter((s) => s.from <= at);
  const ended = (s: { readonly to: Instant | null }) =>
    s.to === null || s.to > at ? Number.POSITIVE_INFINITY : s.to;
  const newest = spans.sort((a, b) => ended(a) - ended(b)).at(-1);
  if (newest === undefined) return null;
  const to = ended(newest);
  return { from: newest.from, to: Number.isFinite(to) ? to : null };
}

function belowFloor(c: LevelCase, latest: Latest): LevelReason[] {
  const { animalId } = c.series.animal;
  const floor = c.settings.floorG?.[animalId];
  if (floor === undefined || latest.massG >= floor) return [];
  const parameters = { animal: animalId, now: latest.massG, at: latest.at, floor };
  return [
    makeReason({
      level: "danger",
      what: "loss",
      sentence: notice("level-below-floor", "problem", parameters),
      at: latest.at,
      act: "call now, feed as ordered",
      byAt: c.at,
      size: {
        value: 100 * (1 - latest.massG / floor) + 100,
        unit: "% of mass",
        outwards: "higher",
        step: 1,
      },
    }),
  ];
}
