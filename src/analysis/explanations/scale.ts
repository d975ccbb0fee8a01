import { type Notice, notice } from "../../core/notice.js";
import { isFailedCheck } from "../../flags/rules/known-weight-check.js";
import { checkSpeaksD, type ScaleStep } from "../../flags/scale-steps.js";
import { feedingDayOf } from "../../units/calendar.js";
import { dayMs } from "../../units/day-ms.js";
import { hourMs } from "../../units/hour-ms.js";
import type { RivalExplanation } from "./explanation.js";
import type { SlowGainerCase } from "./slow-gainer-case.js";

/** A step that nobody checked explains nothing after so many hours. */
const uncheckedH = 12;
/** Share of the missing grams that a scale's error must account for to be likely. */
const accountsFor = 0.3;

/**
 * Does the scale read wrongly? Likely only by a failed known-weight check near these
 * days, or two scales that disagree on the same animals, large enough for what is
 * missing. A step of everything on one scale is possible at most and asks for a check;
 * left unchecked for 12 hours it is said to explain nothing, after a passed check it
 * speaks for the animals.
 */
export function scale(c: SlowGainerCase): RivalExplanation {
  const answer = c.real.answers.find((a) => a.question === "scale")!;
  const of = (...codes: string[]) => answer.sentences.filter((s) => codes.includes(s.code));
  const bare = { rival: "scale", speaksFor: [], speaksAgainst: [], ask: [] } as const;
  const stepped = c.step === null ? [] : [stepSentence(c, c.step)];
  const off = newestError(c);
  const failed = of("real-scale-failed", "real-scales-disagree");
  const disagree = of("real-scales-disagree").length > 0;
  if (disagree || off.failed) {
    const enough = disagree || off.low >= accountsFor * missingShare(c);
    return {
      ...bare,
      verdict: enough ? "likely" : "possible",
      speaksFor: [...failed, ...stepped],
      ask: [notice("rival-scale-weigh-again", "caution", { animal: c.animal.animalId })],
      weight: enough ? 1 : 0.4,
    };
  }
  if (c.step !== null && c.step.pct < 0 && c.step.check !== "passed") {
    const fresh = hoursSince(c, c.step) <= uncheckedH;
    return {
      ...bare,
      verdict: "possible",
      speaksFor: stepped,
      speaksAgainst: fresh
        ? []
        : [notice("rival-scale-unchecked-step", "caution", { scale: c.step.scale })],
      ask: [notice("rival-scale-check", "problem", { scale: c.step.scale })],
      weight: 0.95,
    };
  }
  const unchecked = of("real-scale-unchecked", "real-scale-not-named");
  // A check speaks for the days around it: an old one does not clear these days.
  if (unchecked.length > 0 || !off.recent) {
    return {
      ...bare,
      verdict: "cannot be told",
      speaksFor: stepped,
      ask: unchecked.length > 0 ? unchecked : [oldCheck(c)],
      weight: c.ownStep !== null && c.ownStep.step < 0 ? 0.5 : 0.1,
    };
  }
  return {
    ...bare,
    verdict: "speaks against",
    speaksFor: stepped,
    speaksAgainst: of("real-scale-passed", "real-scale-others-not-slow", "real-scales-agree"),
    weight: 0,
  };
}

const hoursSince = (c: SlowGainerCase, step: ScaleStep) =>
  ((c.analysis.records.end ?? step.firstAt) - step.firstAt) / hourMs;

function stepSentence(c: SlowGainerCase, step: ScaleStep): Notice {
  return notice("rival-scale-step", step.check === "failed" ? "problem" : "caution", {
    scale: step.scale,
    day: step.day,
    earliest: step.earliest,
    latest: step.latest,
    pct: Math.abs(step.pct),
    low: step.pct < 0,
    n: step.animals.length,
    of: step.judged,
    check: step.check,
    own: step.animals.includes(c.animal.animalId),
  });
}

/** The error of the scale that its last weighing stands on, by the checks around these days. */
function newestError(c: SlowGainerCase): {
  readonly failed: boolean;
  /** Share by which it reads low; 0 where it reads high. */
  readonly low: number;
  readonly recent: boolean;
} {
  const last = lastScale(c);
  if (last === null) return { failed: false, low: 0, recent: false };
  const { zone, feedingDayStartHour } = c.analysis.settings;
  const end = last.at + dayMs;
  const checks = c.analysis.series.scaleChecks.filter(
    (k) => k.scaleId === last.scale && k.at < end,
  );
  const near = checks.filter((k) => {
    const day = feedingDayOf(k.at, zone, feedingDayStartHour);
    return k.at >= last.at - (c.days + checkSpeaksD) * dayMs && day <= c.to;
  });
  const newest = near.at(-1);
  const fails = newest !== undefined && isFailedCheck(newest);
  const off = newest === undefined ? 0 : (newest.knownG - newest.readingG) / newest.knownG;
  return {
    failed: fails,
    low: Math.max(0, off),
    recent: newest !== undefined && last.at - newest.at <= 2 * checkSpeaksD * dayMs + dayMs / 2,
  };
}

function lastScale(c: SlowGainerCase): { readonly scale: string; readonly at: number } | null {
  const last = c.animal.series.weighings.filter((w) => w.standing === "stands for the day").at(-1);
  return last?.row.scaleId == null ? null : { scale: last.row.scaleId, at: last.at };
}

/** What is missing of its mass, as a share of it. */
function missingShare(c: SlowGainerCase): number {
  const { missingPct } = c.deficit;
  return missingPct === null ? 0 : Math.max(0, (missingPct / 100) * c.days);
}

function oldCheck(c: SlowGainerCase): Notice {
  const last = lastScale(c);
  const check = c.analysis.series.scaleChecks
    .filter((k) => k.scaleId === last?.scale && k.at <= (last?.at ?? 0))
    .at(-1);
  return notice("rival-scale-old-check", "caution", {
    scale: last?.scale ?? "",
    last: check?.at ?? null,
  });
}
