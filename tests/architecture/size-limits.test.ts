import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";
import { membersOf } from "../../docs/build/reference/declared.js";
import { sizeInWords } from "../../docs/build/reference/limits-page.js";
import { type SizeLimits, sizeLimits } from "../../src/core/size-limits.js";

/**
 * Limits of size, time and memory stand in one file. A second place would have to write a
 * number of bytes, a constant called after what is most, a time to wait at most, or cut a
 * text at a number; each of these is looked for, and each way of looking is tried.
 */
const root = fileURLToPath(new URL("../..", import.meta.url));
const owner = "core/size-limits.ts";
/** Rooms that take in, keep, write and wait; what a page or a rule of care allows is decided elsewhere. */
const rooms = /^(records|cache|publish|command-line|archive|notebook|core|units)\//;

const marks: readonly { readonly of: string; readonly mark: RegExp; readonly caught: string }[] = [
  {
    of: "a number of bytes",
    mark: /\b\d+ \* 2 \*\* [1-3]0\b|\b\d+ << (?:10|16|20|30)\b|\b\d+ \* 1024\b/,
    caught: "const room = 48 * 2 ** 20;",
  },
  {
    of: "a constant called after what is most",
    mark: /\bconst (?:MOST|most|LONGEST|longest|LARGEST|largest|DEEPEST|deepest|MAX|max)\w*(?:: number)? = [\d(]/,
    caught: "const MOST_IN_FOLDER = 200;",
  },
  {
    of: "what holds where nothing else is said",
    mark: /(?:seconds|bytes|letters|megabytes)\w* \?\? [\d_]+\b/i,
    caught: "const whole = options.notebookSeconds ?? 1800;",
  },
  { of: "a time to wait at most", mark: /\btimeout: [\d_]+\b/, caught: "{ timeout: 120_000 }" },
  {
    of: "a text cut at a number",
    // Ten, 16 and 19 letters are the parts of an instant; a digest has no reader.
    mark: /(?:text|name|message|words|written|cell|value|json|title|label|clean|safe|id)!?(?:\(\))?(?:\.trim\(\)|\.message)?\.slice\(0, (?!(?:10|16|19)\))\d{2,}/i,
    caught: "came: written.slice(0, 80)",
  },
];

/** Numbers that are no limits of size, and why. */
const others: Readonly<Record<string, string>> = {
  "command-line/serve-pages.ts": "how long a page waits for the next making before it asks again",
  "records/files/total-records.ts": "how much is read at once: any number gives the same answer",
  "records/plain-instant.ts": "how many dates are kept in memory: any number gives the same answer",
  "records/cell-reader.ts": "how many texts are kept in memory: any number gives the same answer",
  "records/read-order-cell.ts": "how often a day somebody can feed",
  "records/read-text-table.ts": "how much of a file is looked at to guess what parts its cells",
};

const codeOf = (text: string) => text.replace(/\/\*[\s\S]*?\*\//g, "").replace(/\/\/ .*/g, "");
const src = join(root, "src");
const sources = readdirSync(src, { recursive: true, encoding: "utf8" })
  .map((name) => name.replaceAll("\\", "/"))
  .filter((name) => name.endsWith(".ts") && rooms.test(name) && name !== owner)
  .map((name) => ({ name, code: codeOf(readFileSync(join(src, name), "utf8")) }));

describe("limits of size, time and memory", () => {
  it.each(marks)("stand in one file: $of", ({ mark, caught }) => {
    expect(mark.test(caught)).toBe(true);
    const stated = sources.filter(({ code }) => mark.test(code)).map(({ name }) => name);
    expect(stated.filter((name) => others[name] === undefined)).toEqual([]);
  });

  it("and what is allowed beside it is there", () => {
    const all = sources.filter(({ code }) => marks.some(({ mark }) => mark.test(code)));
    expect(Object.keys(others).filter((name) => !all.some((each) => each.name === name))).toEqual(
      [],
    );
  });

  it("each is explained, is a number, and somebody keeps to it", () => {
    const members = membersOf(`src/${owner}`, "SizeLimits");
    expect(members.map(({ name }) => name).sort()).toEqual(Object.keys(sizeLimits).sort());
    const everywhere = readdirSync(src, { recursive: true, encoding: "utf8" })
      .filter((name) => name.endsWith(".ts") && !name.replaceAll("\\", "/").endsWith(owner))
      .map((name) => readFileSync(join(src, name), "utf8"))
      .join("\n");
    for (const { name, about } of members) {
      expect(about.length, name).toBeGreaterThan(20);
      expect(sizeLimits[name as keyof SizeLimits], name).toBeGreaterThan(0);
      expect(everywhere, name).toMatch(new RegExp(`[lL]imits\\.${name}\\b`));
    }
  });

  it("README, SECURITY and the manual name no other size", () => {
    const known = new Set(Object.keys(sizeLimits).map((name) => sizeInWords(name as never)));
    const docs = readdirSync(join(root, "docs")).filter((name) => name.endsWith(".md"));
    for (const name of ["README.md", "SECURITY.md", ...docs.map((each) => `docs/${each}`)])
      for (const [size] of readFileSync(join(root, name), "utf8").matchAll(/\b\d+ MB\b/g))
        expect(known, `${name}: ${size}`).toContain(size);
    const readme = readFileSync(join(root, "README.md"), "utf8");
    for (const name of ["fileBytes", "studyBytes", "workbookBytes", "cacheBytes"] as const)
      expect(readme).toContain(sizeInWords(name));
  });
});
