/** A page of the site before it is drawn. */
export interface DocPage {
  /** Name of its file, without ending. */
  readonly name: string;
  readonly markdown: string;
}

/** The first heading of a page. @example titleOf("# Columns\n\ntext") // "Columns" */
export function titleOf(markdown: string): string {
  const heading = /^# (.+)$/m.exec(markdown);
  if (heading === null)
    throw new Error(`A page begins without a heading: ${markdown.slice(0, 60)}`);
  return heading[1]!.replaceAll("`", "");
}

/** Text that stands in Markdown as it is. @example asIs("a_b | *c*") // "a\\_b \\| \\*c\\*" */
export function asIs(text: string): string {
  return text
    .replace(/([\\`*_[\]|<>~#])/g, "\\$1")
    .replace(/&/g, "&amp;")
    .replace(/\s*\n\s*/g, " ");
}

/** Words as code inside a line or a cell. @example code("a|b") // "`a\\|b`" */
export function code(text: string): string {
  const marks = text.includes("`") ? "``" : "`";
  const inner = text.replaceAll("|", "\\|").replace(/\s*\n\s*/g, " ");
  return text.trim() === "" ? "" : marks + (marks === "``" ? ` ${inner} ` : inner) + marks;
}

/** A table of cells that are Markdown already. */
export function mdTable(heads: readonly string[], rows: readonly (readonly string[])[]): string {
  const line = (cells: readonly string[]) => `| ${cells.join(" | ")} |`;
  return [line(heads), line(heads.map(() => "---")), ...rows.map(line)].join("\n");
}
