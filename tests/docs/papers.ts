import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";

export const root = fileURLToPath(new URL("../..", import.meta.url));

/** What people read as Markdown, from the top of the project. */
export const papers: readonly string[] = [
  "README.md",
  "DEVELOPERS.md",
  "SECURITY.md",
  "CHANGELOG.md",
  "GOLDEN-CHANGES.md",
  "data-demo/README.md",
  ...readdirSync(join(root, "docs"))
    .filter((name) => name.endsWith(".md"))
    .map((name) => `docs/${name}`),
];

export const textOf = (paper: string): string => readFileSync(join(root, paper), "utf8");

export interface CodeBlock {
  readonly paper: string;
  readonly line: number;
  readonly language: string;
  readonly text: string;
}

/** Every fenced block, without the blanks by which a list indents it. */
export function codeBlocks(paper: string, text: string = textOf(paper)): CodeBlock[] {
  const blocks: CodeBlock[] = [];
  const lines = text.split("\n");
  for (let at = 0; at < lines.length; at++) {
    const open = /^(\s*)(`{3,})(.*)$/.exec(lines[at]!);
    if (open === null) continue;
    const from = at + 1;
    for (at = from; at < lines.length && lines[at]!.trim() !== open[2]; at++);
    const inner = lines.slice(from, at).map((line) => line.slice(open[1]!.length));
    blocks.push({ paper, line: from, language: open[3]!.trim(), text: inner.join("\n") });
  }
  return blocks;
}

/** Lines that begin with the name of our command, in blocks and inside a line of text. */
export function commandLines(paper: string): string[] {
  const text = textOf(paper);
  const inline = [...text.matchAll(/`((?:npx )?gramline [a-z][^`]*)`/g)].map((m) => m[1]!);
  const typed = codeBlocks(paper)
    .filter((block) => block.language === "sh")
    .flatMap((block) => block.text.split("\n"));
  return [...typed, ...inline]
    .map((line) => line.replace(/\s+#.*$/, "").trim())
    .filter((line) => /^(npx )?gramline /.test(line));
}

/** Words of a line as a shell parts them; quotes keep blanks together. @example shellWords('a "b c"') // ["a", "b c"] */
export function shellWords(line: string): string[] {
  return [...line.matchAll(/"([^"]*)"|'([^']*)'|(\S+)/g)].map((m) => m[1] ?? m[2] ?? m[3]!);
}
