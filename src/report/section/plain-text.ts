import { noticeText } from "../../core/catalogue.js";
import { screenWording } from "../../units/format.js";
import { cellText, isNumberColumn } from "./cell-text.js";
import type { Block, Section, Table } from "./section.js";

/** A section as text for viewers that show nothing else. */
export function sectionText(section: Section, level = 1): string {
  const heading = `${"#".repeat(Math.min(level, 6))} ${section.heading}`;
  const parts = [heading, ...section.blocks.map(blockText)];
  for (const inner of section.sections ?? []) parts.push(sectionText(inner, level + 1));
  return parts.filter((part) => part !== "").join("\n\n");
}

/** One block as text. */
export function blockText(block: Block): string {
  switch (block.kind) {
    case "text":
      return block.text;
    case "list":
      return block.items.map((item) => `- ${item}`).join("\n");
    case "caution":
      return `Caution: ${block.text}`;
    case "chart-block":
      return `[${block.chart.alt}]\n${block.chart.caption}`;
    case "notices":
      return block.notices.map((each) => `- ${noticeText(each, screenWording())}`).join("\n");
    case "lead":
      return [block.where.join("; "), block.headline, block.under ?? "", ...(block.also ?? [])]
        .filter((line) => line !== "")
        .join("\n");
    case "questions":
      return block.answers
        .map((a) => `${a.question} ${a.answer} (records ${a.strength})`)
        .join("\n");
    case "fold":
      return [block.title, ...block.blocks.map((each) => blockText(each))].join("\n\n");
    case "table":
      return tableText(block);
  }
}

/** A table in columns of equal width. */
export function tableText(table: Table): string {
  if (table.rows.length === 0) return table.whenEmpty ?? `${table.caption}\n(no rows)`;
  const heads = table.columns.map((c) => (c.unit ? `${c.title} (${c.unit})` : c.title));
  const cells = table.rows.map((row) => table.columns.map((c, i) => cellText(row[i] ?? null, c)));
  const widths = heads.map((head, i) =>
    Math.max(head.length, ...cells.map((row) => row[i]!.length)),
  );
  const numbers = table.columns.map((c, i) => isNumberColumn(c, table.rows, i));
  const line = (row: readonly string[]) =>
    row
      .map((cell, i) => (numbers[i] ? cell.padStart(widths[i]!) : cell.padEnd(widths[i]!)))
      .join("  ")
      .trimEnd();
  return [
    table.caption,
    line(heads),
    widths.map((w) => "-".repeat(w)).join("  "),
    ...cells.map(line),
  ].join("\n");
}
