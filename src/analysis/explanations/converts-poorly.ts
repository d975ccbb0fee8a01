import { notice } from "../../core/notice.js";
import { median } from "../../stats/descriptive/median.js";
import type { RivalExplanation } from "./explanation.js";
import type { SlowGainerCase } from "./slow-gainer-case.js";
import type { Range } from "./spell.js";
import { growthShare, verdictOfDrop } from "./verdict-of-drop.js";

/** Energy for its size against what it, or the others, had: 0 where it was as much. */
export function energyDrop(c: SlowGainerCase): Range | null {
  const own = c.now.kcalPerSize;
  if (own === null) return null;
  const earlier = c.before?.kcalPerSize ?? null;
  const others = c.others.flatMap((o) => o.now.kcalPerSize ?? []);
  const theirs = others.length < 3 ? null : median(others.map((o) => (o.low + o.high) / 2));
  // Where the gain fell against its own, so must the energy; else against the others.
  const usual =
    c.deficit.by === "own earlier gain" && earlier !== null
      ? (earlier.low + earlier.high) / 2
      : (theirs ?? (earlier === null ? null : (earlier.low + earlier.high) / 2));
  if (usual === null || usual <= 0) return null;
  return { low: 1 - own.high / usual, high: 1 - own.low / usual };
}

/**
 * Did it gain less from as much energy? What is left when what it ate does not
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
    eatenLow: 100 * (1 - drop.high),
    eatenHigh: 100 * (1 - drop.low),
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
  const covered = verdictOfDrop(drop, c).covered;
  const most = Math.max(0, drop.high) / growthShare.least / c.deficit.share;
  const left = Math.max(
    0,
    Math.min(1, 1 - (covered === null ? 0 : (covered.low + covered.high) / 2)),
  );
  const verdict = most < 0.5 ? "likely" : most < 1.2 || left > 0.2 ? "possible" : "speaks against";
  const said = notice(
    verdict === "speaks against" ? "rival-converts-eaten-for" : "rival-converts-poorly",
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
