import { type Chart, chartTitle } from "../../src/charts/chart.js";
import { noticeText } from "../../src/core/catalogue.js";
import { cellReason, cellText } from "../../src/report/section/cell-text.js";
import type { Block, Section } from "../../src/report/section/section.js";
import { screenWording } from "../../src/units/format.js";

/** Every piece of text that a reader meets in a section, block or chart, pictures by their words. */
export function wordsOf(part: Section | Block | Chart): string[] {
  switch (part.kind) {
    case "section":
      return [
        part.heading,
        ...part.blocks.flatMap(wordsOf),
        ...(part.sections ?? []).flatMap(wordsOf),
      ];
    case "chart":
      return [chartTitle(part), part.alt, part.caption, ...wordsInSpec(part.spec)];
    case "chart-block":
      return wordsOf(part.chart);
    case "list":
      return [...part.items];
    case "notices":
      return part.notices.map((each) => noticeText(each, screenWording()));
    case "table":
      if (part.rows.length === 0) return [part.whenEmpty ?? part.caption];
      return [
        part.caption,
        ...part.columns.map((c) => (c.unit === undefined ? c.title : `${c.title} (${c.unit})`)),
        ...part.rows.flatMap((row) =>
          part.columns.flatMap((column, at) => {
            if (column.asWritten === true) return [];
            const cell = row[at] ?? null;
            return [cellText(cell, column), cellReason(cell) ?? ""];
          }),
        ),
      ];
    case "lead":
      return [...part.where, part.headline, part.under ?? "", ...(part.also ?? [])];
    case "questions":
      return part.answers.flatMap((a) => [a.question, a.answer]);
    case "fold":
      return [part.title, part.about ?? "", ...part.blocks.flatMap(wordsOf)];
    default:
      return "text" in part ? [part.text] : [];
  }
}

/** Titles, labels and rows of words in a specification. */
function wordsInSpec(spec: unknown): string[] {
  if (Array.isArray(spec)) return spec.flatMap(wordsInSpec);
  if (typeof spec !== "object" || spec === null) return [];
  return Object.entries(spec).flatMap(([key, value]) => {
    if (key === "config" || key === "$schema") return [];
    if (
      (key === "title" ||
        key === "text" ||
        key === "subtitle" ||
        key === "words" ||
        key === "kind" ||
        key === "label") &&
      typeof value === "string"
    )
      return [value];
    return wordsInSpec(value);
  });
}
