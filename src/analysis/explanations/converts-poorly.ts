import { notice } from "../../core/notice.js";
import { median } from "../../stats/descriptive/median.js";
import type { RivalExplanation } from "./explanation.js";
import type { SlowGainerCase } from "./slow-gainer-case.js";
import type { Range } from "./spell.js";
import { clearOverBend } from "./step-in-course.js";
import { growthShare, verdictOfDrop } from "./verdict-of-drop.js";
import { conditionsTold } from "./weighing-condition.js";

/** Energy kept for its size against what it, or the others, had: 0 where it was as much. */
export function energyDrop(c: SlowGainerCase): Range | null {
  const own = c.now.keptPerSize;
  if (own === null) return null;
  const earlier = c.before?.keptPerSize ?? null;
  const others = c.others.flatMap((o) => o.now.keptPerSize ?? []);
  const theirs =
    others.length < 3
      ? null
      : { low: median(others.map((o) => o.low))!, high: median(others.map((o) => o.high))! };
  // Where the gain fell against its own, so must the energy; else against the others.
  const usual = c.deficit.by === "own earlier gain" ? (earlier ?? theirs) : (theirs ?? earlier);
  if (usual === null || usual.low <= 0) return null;
  const drops = [1 - own.high / usual.high, 1 - own.low / usual.low].sort((a, b) => a - b);
  return { low: drops[0]!, high: drops[1]! };
}

/**
 * Did it gain less from as much energy kept? What is left when what it kept does not
 * account for it: conversion, loss of warmth, loss of body mass, unwritten vomit,
 * wrong diet values and unwritten feeds are never told apart here.
 */
export function convertsPoorly(c: SlowGainerCase): RivalExplanation {
  const id = { animal: c.animal.animalId };
  const bare = {
    rival: "converts poorly or loses",
    speaksFor: [],
    speaksAgainst: [],
    ask: [],
  } as const;
  const drop = energyDrop(c);
  const slow = c.deficit.slow === "slow" || c.deficit.slow === "loses";
  if (drop === null || c.deficit.share === null) {
    return {
      ...bare,
      verdict: "cannot be told",
      ask: [notice("rival-converts-unknown", "caution", id)],
      weight: c.deficit.slow === "loses" ? 0.5 : 0,
    };
  }
  const p = {
    ...id,
    keptLow: 100 * (1 - drop.high),
    keptHigh: 100 * (1 - drop.low),
    missing: 100 * c.deficit.share,
    ...{ own: c.now.gainGPerD },
    by: c.deficit.by === "own earlier gain" ? "before" : "others",
  };
  if (!slow) {
    return {
      ...bare,
      verdict: "speaks against",
      speaksAgainst: [notice("rival-converts-well", "info", p)],
      weight: 0,
    };
  }
  const most = Math.max(0, drop.high) / growthShare.least / c.deficit.share;
  const left = 1 - verdictOfDrop(drop, c).weight;
  // A step is no gain: where it fits better than a bend, or as well and what would tell
  // was not written, it is possible at most.
  const stepped =
    c.ownStep !== null &&
    c.ownStep.step < 0 &&
    c.ownStep.overBend > (conditionsTold(c) ? clearOverBend : -4);
  const verdict =
    most < 0.5 && !stepped ? "likely" : most < 1.2 || left > 0.2 ? "possible" : "speaks against";
  const said = notice(
    verdict === "speaks against" ? "rival-converts-kept-for" : "rival-converts-poorly",
    verdict === "likely" ? "caution" : "info",
    p,
  );
  return {
    ...bare,
    verdict,
    speaksFor: verdict === "speaks against" ? [] : [said],
    speaksAgainst: verdict === "speaks against" ? [said] : [],
    ask: verdict === "speaks against" ? [] : [notice("rival-converts-ask", "caution", id)],
    weight: left,
  };
}
