import type { HousingRow } from "../records/study.js";
import type { Instant, OrderLine } from "../series/animal-series.js";
import { dayMs } from "../units/day-ms.js";
import type { AnimalAnalysis, StudyAnalysis } from "./study-analysis.js";

/** Something that was written down and may have to do with a change of gain. */
export interface Happening {
  readonly at: Instant;
  readonly to: Instant | null;
  readonly kind:
    | "diet begun"
    | "diet ended"
    | "batch begun"
    | "plan changed"
    | "moved"
    | "event"
    | "treatment"
    | "seen";
  /** As written: diet, batch, place, notes. */
  readonly words: string;
}

export interface WhatHappenedOptions {
  /** From this instant on. Default: everything. */
  readonly from?: Instant;
  /** The study's table of housing; without it moves are not shown. */
  readonly housing?: readonly HousingRow[];
}

/** Observations that are numbers or routine, shown elsewhere. */
const elsewhere = new Set(["temperature", "groom", "swim", "urine", "stool", "length", "girth"]);
const treatments = new Set(["medication", "fluids", "exam"]);
/** A diet not fed for so long has ended. */
const endedAfterD = 3;

/**
 * What else was written about one animal up to the day looked at, in order of
 * time: diets begun and ended, batches first fed, plans, moves, events of the
 * study, treatments, what was seen. Nothing is judged; whether one of them has to
 * do with the gain is for the reader.
 *
 * @example whatHappened(analysis, animal, { from }).map((h) => h.kind) // ["plan changed", "diet begun", ...]
 */
export function whatHappened(
  analysis: StudyAnalysis,
  animal: AnimalAnalysis,
  options: WhatHappenedOptions = {},
): readonly Happening[] {
  const { series } = animal;
  const end = series.span?.to ?? Number.NEGATIVE_INFINITY;
  const out: Happening[] = [];
  const add = (at: Instant, kind: Happening["kind"], words: string, to: Instant | null = null) =>
    out.push({ at, to, kind, words });
  const first = new Map<string, Instant>();
  const last = new Map<string, Instant>();
  const batches = new Set<string>();
  for (const feed of series.feeds) {
    const { dietId } = feed;
    if (dietId !== null) {
      if (!first.has(dietId)) first.set(dietId, feed.at);
      last.set(dietId, feed.at);
    }
    const { batchId } = feed.row;
    if (batchId !== null && !batches.has(batchId)) {
      batches.add(batchId);
      add(feed.at, "batch begun", batchId);
    }
  }
  for (const [diet, at] of first) add(at, "diet begun", diet);
  for (const [diet, at] of last) {
    if (end - at > endedAfterD * dayMs) add(at, "diet ended", diet);
  }
  series.orders.lines.forEach((line, i) => {
    const before = series.orders.lines[i - 1];
    const words = (l: OrderLine) =>
      [
        l.means === "nil by mouth" ? "nothing by mouth" : l.dietId,
        l.perFeed ?? l.perDay,
        l.feeds === null ? null : `${l.feeds} times a day`,
      ]
        .filter((x) => x !== null)
        .join(", ");
    if (before === undefined || words(before) !== words(line))
      add(line.from, "plan changed", words(line), line.to);
  });
  const own = (options.housing ?? [])
    .filter((h) => h.animalId === series.animal.animalId && h.from <= end)
    .sort((a, b) => a.from - b.from);
  own.forEach((h, i) => {
    if (own[i - 1]?.place !== h.place) add(h.from, "moved", h.place, h.to);
  });
  for (const e of analysis.series.events) {
    if (e.at > end || (e.to ?? e.at) < (series.span?.from ?? 0)) continue;
    add(e.at, "event", `${e.kind}${e.notes === null ? "" : `: ${e.notes}`}`, e.to);
  }
  for (const sign of series.signs) {
    // A milestone that is not yet reached is part of its course; a vomit that was none is nothing.
    if (elsewhere.has(sign.kind) || (sign.state === "none" && sign.kind !== "milestone")) continue;
    add(
      sign.at,
      treatments.has(sign.kind) ? "treatment" : "seen",
      `${sign.kind}${sign.written === "" ? "" : `: ${sign.written}`}`,
    );
  }
  return out
    .filter((h) => h.at <= end && (options.from === undefined || (h.to ?? h.at) >= options.from))
    .sort((a, b) => a.at - b.at);
}
