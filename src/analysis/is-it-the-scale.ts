import { type Notice, notice } from "../core/notice.js";
import { judgedSignal } from "../flags/animal-day/judged-signals.js";
import { allowedCheckErrorG, isFailedCheck } from "../flags/rules/known-weight-check.js";
import { defaultRuleLimits } from "../flags/rules/rule-limits.js";
import type { NetWeighing, ScaleCheckRow } from "../series/animal-series.js";
import { conditionErrors, scaleErrorG } from "../series/condition.js";
import { daysBetween } from "../units/calendar.js";
import { dayMs } from "../units/day-ms.js";
import { hourMs } from "../units/hour-ms.js";
import type { ChangeOfGain } from "./change-of-gain.js";
import type { RealAnswer, RecordWindow, ScaleEvidence, Shortfall } from "./real-answer.js";
import type { AnimalAnalysis, StudyAnalysis } from "./study-analysis.js";

/**
 * Scales disagree, as in the day's rule, where two weighings of one animal within
 * hours differ by many standard errors; here their mean, over at least so many pairs.
 */
const fewestPairs = 2;
const pairWithinMs = defaultRuleLimits.scalesWithinH * hourMs;
const disagreeZ = defaultRuleLimits.scalesZ!;

/**
 * Is it the scale? From known-weight checks of the scales that the animal's days
 * rest on, from animals weighed on two scales within hours, and from the other
 * animals on the same scale. "Scale" is concluded only from a failed check or from
 * two scales that disagree on the same animals; others that slow down together
 * are a shared cause to look for, of which the scale is one.
 */
export function isItTheScale(
  analysis: StudyAnalysis,
  animal: AnimalAnalysis,
  window: RecordWindow,
  change: ChangeOfGain,
  shortfall: Shortfall | null,
): RealAnswer {
  const id = animal.animalId;
  const { standing } = window;
  const named = standing.filter((w) => w.row.scaleId !== null);
  if (standing.length === 0 || named.length === 0) {
    return {
      question: "scale",
      verdict: "cannot be told",
      sentences: [notice("real-scale-not-named", "caution", { animal: id, n: standing.length })],
      evidence: { weighings: standing.length, scales: [] },
    };
  }
  const scales = [...new Set(named.map((w) => w.row.scaleId!))].sort();
  const sentences: Notice[] = [];
  const checked: ScaleEvidence["scales"][number][] = [];
  let failed = 0;
  let unchecked = 0;
  for (const scale of scales) {
    const on = named.filter((w) => w.row.scaleId === scale);
    const all = analysis.series.scaleChecks.filter((c) => c.scaleId === scale);
    const checks = all.filter((c) => c.at >= window.from && c.at < window.to);
    const bad = checks.filter((c) => isFailedCheck(c));
    checked.push({ scale, checks: checks.length, failed: bad.length });
    if (bad.length > 0) {
      failed++;
      sentences.push(failedSentence(scale, checks, bad, on, shortfall, animal));
    } else if (checks.length === 0) {
      unchecked++;
      const last = all.filter((c) => c.at < window.to).at(-1) ?? null;
      sentences.push(
        notice("real-scale-unchecked", "caution", {
          scale,
          n: on.length,
          last: last?.at ?? null,
          ago: last === null ? null : Math.round((window.to - last.at) / dayMs),
        }),
      );
    } else {
      const worst = worstOf(checks);
      sentences.push(
        notice("real-scale-passed", "info", {
          scale,
          n: on.length,
          checks: checks.length,
          worst: worst.readingG - worst.knownG,
          known: worst.knownG,
          allowed: allowedCheckErrorG(worst.knownG),
          last: checks.at(-1)!.at,
        }),
      );
    }
    sentences.push(othersOn(analysis, animal, scale, window, change));
  }
  const moved = changeOfScale(named, change);
  if (moved !== null)
    sentences.push(notice("real-scale-moved", "caution", { animal: id, ...moved }));
  const pairs = scalePairs(analysis, new Set(scales), window);
  let disagree = false;
  for (const p of pairs) {
    const z = Math.abs(p.meanPct) / p.sePct;
    const bad = p.n >= fewestPairs && z > disagreeZ;
    disagree ||= bad;
    sentences.push(
      notice(bad ? "real-scales-disagree" : "real-scales-agree", bad ? "problem" : "info", {
        first: p.first,
        second: p.second,
        n: p.n,
        mean: p.meanPct,
        se: p.sePct,
        few: p.n < fewestPairs,
      }),
    );
  }
  if (pairs.length === 0)
    sentences.push(notice("real-scales-not-compared", "info", { animal: id }));
  const verdict = failed > 0 || disagree ? "found" : unchecked > 0 ? "cannot be told" : "not found";
  return { question: "scale", verdict, sentences, evidence: { scales: checked } };
}

function worstOf(checks: readonly ScaleCheckRow[]): ScaleCheckRow {
  const share = (c: ScaleCheckRow) => Math.abs(c.readingG - c.knownG) / c.knownG;
  return checks.reduce((a, b) => (share(b) > share(a) ? b : a));
}

/**
 * The failed checks, and what the last weighing would be were the error of the
 * check nearest to it in time, at the same share of the load, its own: the true
 * load is the reading over one plus that share, the tare as written.
 */
function failedSentence(
  scale: string,
  checks: readonly ScaleCheckRow[],
  bad: readonly ScaleCheckRow[],
  on: readonly NetWeighing[],
  shortfall: Shortfall | null,
  animal: AnimalAnalysis,
): Notice {
  const last = on.at(-1)!;
  const nearest = checks.reduce((a, b) =>
    Math.abs(b.at - last.at) < Math.abs(a.at - last.at) ? b : a,
  );
  const share = (nearest.readingG - nearest.knownG) / nearest.knownG;
  const tare = last.row.massG - (last.netG ?? last.row.massG);
  const corrected = last.row.massG / (1 + share) - tare;
  const newest = bad.at(-1)!;
  const off = newest.readingG - newest.knownG;
  return notice("real-scale-failed", "problem", {
    animal: animal.animalId,
    scale,
    n: on.length,
    checks: checks.length,
    failed: bad.length,
    first: bad[0]!.at,
    last: newest.at,
    known: newest.knownG,
    off: Math.abs(off),
    low: off < 0,
    offPct: (100 * Math.abs(off)) / newest.knownG,
    allowed: allowedCheckErrorG(newest.knownG),
    mass: last.netG,
    massDay: last.feedingDay,
    corrected,
    explained: corrected - (last.netG ?? corrected),
    shortfall: shortfall?.grams ?? null,
    since: shortfall?.since ?? null,
  });
}

/** The other animals weighed on a scale in the window, and how many of them slowed in the same days. */
function othersOn(
  analysis: StudyAnalysis,
  animal: AnimalAnalysis,
  scale: string,
  window: RecordWindow,
  change: ChangeOfGain,
): Notice {
  const others = analysis.animals.filter(
    (a) =>
      a !== animal &&
      a.inCare &&
      a.series.weighings.filter(
        (w) =>
          w.row.scaleId === scale &&
          w.at >= window.from &&
          w.at < window.to &&
          w.standing === "stands for the day",
      ).length >= 3,
  );
  const slow = others.filter((a) => {
    const signal = judgedSignal(a.day, "slowed gain");
    if (!signal?.raised) return false;
    const { sinceEarliestDay: from, sinceLatestDay: to } = signal.evidence;
    if (change.earliest === null || change.latest === null) return true;
    return from !== null && to !== null && from <= change.latest && to >= change.earliest;
  });
  return notice(
    others.length === 0
      ? "real-scale-alone"
      : slow.length > 0
        ? "real-scale-others-slow"
        : "real-scale-others-not-slow",
    slow.length > 0 ? "caution" : "info",
    {
      scale,
      n: others.length,
      slow: slow.map((a) => a.animalId),
      count: slow.length,
      others: others.map((a) => a.animalId),
    },
  );
}

/** The day on which the animal moved to another scale, where it did once and for good. */
function changeOfScale(named: readonly NetWeighing[], change: ChangeOfGain) {
  for (let i = 1; i < named.length; i++) {
    const before = named[i - 1]!.row.scaleId!;
    const after = named[i]!.row.scaleId!;
    if (before === after) continue;
    const stays = named.slice(i).every((w) => w.row.scaleId === after);
    const was = named.slice(0, i).every((w) => w.row.scaleId === before);
    if (!stays || !was) return null;
    const day = named[i]!.feedingDay;
    return {
      before,
      after,
      day,
      away: change.since === null ? null : Math.abs(daysBetween(day, change.since)),
      later: change.since !== null && day > change.since,
    };
  }
  return null;
}

interface ScalePair {
  readonly first: string;
  readonly second: string;
  readonly n: number;
  readonly meanPct: number;
  readonly sePct: number;
}

/** Differences between two scales on the same animals within hours, meal and coat alike. */
function scalePairs(
  analysis: StudyAnalysis,
  scales: ReadonlySet<string>,
  window: RecordWindow,
): ScalePair[] {
  const found = new Map<string, { d: number[]; v: number }>();
  for (const a of analysis.animals) {
    const rows = a.series.weighings.filter(
      (w) =>
        w.at >= window.from &&
        w.at < window.to &&
        w.netG !== null &&
        w.slip === null &&
        w.row.scaleId !== null,
    );
    for (let i = 0; i < rows.length; i++) {
      for (let j = i + 1; j < rows.length && rows[j]!.at - rows[i]!.at <= pairWithinMs; j++) {
        let p = rows[i]!;
        let q = rows[j]!;
        if (p.row.scaleId === q.row.scaleId) continue;
        if (p.row.meal !== q.row.meal || p.row.coat !== q.row.coat) continue;
        if (!scales.has(p.row.scaleId!) && !scales.has(q.row.scaleId!)) continue;
        if (p.row.scaleId! > q.row.scaleId!) [p, q] = [q, p];
        const key = `${p.row.scaleId} ${q.row.scaleId}`;
        const entry = found.get(key) ?? { d: [], v: 0 };
        const middle = (p.netG! + q.netG!) / 2;
        entry.d.push((100 * (q.netG! - p.netG!)) / middle);
        const errors = [p, q].map((w) => scaleErrorG(w.row, analysis.settings) / middle);
        entry.v += (100 * Math.hypot(conditionErrors.usual, ...errors)) ** 2;
        found.set(key, entry);
      }
    }
  }
  return [...found].map(([key, { d, v }]) => {
    const [first, second] = key.split(" ") as [string, string];
    const meanPct = d.reduce((a, b) => a + b, 0) / d.length;
    return { first, second, n: d.length, meanPct, sePct: Math.sqrt(v) / d.length };
  });
}
