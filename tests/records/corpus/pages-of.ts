import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { dayOfStudy } from "../../../src/publish/day-of-folder.js";
import { shiftPages } from "../../../src/publish/write-hand-over.js";
import { readFolder } from "../../../src/records/files/read-study.js";
import { openWorkbook } from "../../../src/records/open-workbook.js";
import type { StudyInput } from "../../../src/records/parse-study.js";
import { proposeForStudy } from "../../../src/records/propose-for-study.js";
import type { Study } from "../../../src/records/study.js";
import { withAgreed } from "../../../src/records/with-agreed.js";
import type { Files } from "./dull-study.js";

/** A page as text: what stands above the animals, and each animal's own block by its id. */
export interface PageText {
  readonly head: string;
  /** The whole page. */
  readonly whole: string;
  block(animalId: string): string;
}

export interface Pages {
  readonly handOver: PageText;
  readonly sheet: PageText;
  /** Rows of an animal's sheet that hold an amount, counted: "8 x 140 g milk". */
  ordered(animalId: string): readonly string[];
}

/** Writes a study to a folder of its own for as long as `use` takes. */
export async function inFolder<T>(files: Files, use: (folder: string) => Promise<T>): Promise<T> {
  const folder = mkdtempSync(join(tmpdir(), "gramline-set-"));
  try {
    for (const [name, content] of Object.entries(files)) {
      mkdirSync(dirname(join(folder, name)), { recursive: true });
      writeFileSync(join(folder, name), content);
    }
    return await use(folder);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

/**
 * The files as `readFolder` hands them on. Workbooks are opened here and not in a
 * worker of their own, which takes half a second; what the worker does is tried in
 * `workbooks.test.ts`, and that both give the same in `corpus.test.ts`.
 */
export async function inputsOf(files: Files): Promise<StudyInput[]> {
  const names = Object.keys(files).sort();
  if (names.some((name) => !/^[^./][^/]*\.(csv|json|xlsx|ods)$/.test(name)))
    return await inFolder(files, readFolder);
  return names.map((path) => {
    const content = files[path]!;
    const bytes = typeof content === "string" ? new TextEncoder().encode(content) : content;
    return /\.(xlsx|ods)$/.test(path)
      ? { path, bytes, sheets: openWorkbook(path, bytes) }
      : { path, bytes };
  });
}

/** The files after what is proposed was accepted, as `check --save-mapping` does. */
export function accepted(inputs: readonly StudyInput[]): StudyInput[] {
  const proposal = proposeForStudy(inputs);
  return inputs.map((input) =>
    input.path === "study.json"
      ? {
          ...input,
          bytes: new TextEncoder().encode(
            withAgreed(new TextDecoder().decode(input.bytes), proposal).text,
          ),
        }
      : input,
  );
}

/** The hand-over page and the feeding sheet as the command line writes them. */
export async function pagesOf(study: Study, onDay?: string): Promise<Pages> {
  const pages = shiftPages(await dayOfStudy(study, onDay === undefined ? {} : { onDay }));
  const paper = pages.sheet();
  return {
    handOver: pageText(pages.handOver()),
    sheet: pageText(paper),
    ordered: (id) => orderedRows(blockHtml(paper, id)),
  };
}

function pageText(html: string): PageText {
  const body = html.slice(html.indexOf("<body"));
  const first = body.search(/<section\b/);
  return {
    whole: plain(body),
    head: plain(first < 0 ? body : body.slice(0, first)),
    block: (id) => plain(blockHtml(html, id)),
  };
}

/** All sections whose heading names the animal; empty when none does. */
function blockHtml(html: string, animalId: string): string {
  return html
    .slice(html.indexOf("<body"))
    .split(/(?=<section\b)/)
    .slice(1)
    .filter((part) => {
      const heading = /<h[1-6][^>]*>([\s\S]*?)<\/h[1-6]>/.exec(part)?.[1] ?? "";
      return new RegExp(`(?<![\\w-])${animalId}(?![\\w-])`).test(plain(heading));
    })
    .join("\n");
}

function orderedRows(block: string): string[] {
  const counted = new Map<string, number>();
  for (const [row] of block.matchAll(/<tr\b[\s\S]*?<\/tr>/g)) {
    const text = plain(row.replace(/<\/t[dh]>/g, " | "));
    const amount = /(\d[\d,.]*) ?(g|mL)\b/.exec(text);
    const diet = /\b(milk|rich|mash)\b/.exec(text);
    if (amount === null || diet === null) continue;
    const key = `${amount[1]!.replace(",", "")} ${amount[2]} ${diet[1]}`;
    counted.set(key, (counted.get(key) ?? 0) + 1);
  }
  return [...counted].map(([key, times]) => `${times} x ${key}`).sort();
}

function plain(html: string): string {
  return html
    .replace(/<(script|style|svg)\b[\s\S]*?<\/\1>/g, " ")
    .replace(/<[^>]*>/g, " ")
    .replace(/&#(\d+);/g, (_, code: string) => String.fromCodePoint(Number(code)))
    .replace(/&lt;/g, "<")
    .replace(/&gt;/g, ">")
    .replace(/&quot;/g, '"')
    .replace(/&amp;/g, "&")
    .replace(/\s+/g, " ")
    .trim();
}
