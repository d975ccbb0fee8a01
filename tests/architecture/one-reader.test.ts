import { readdirSync, readFileSync, statSync } from "node:fs";
import { join, relative } from "node:path";
import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";

/**
 * What an observation means is read in one place, `src/series/signs`. Elsewhere
 * nobody looks into its value, unit or words; the tests below would find a second
 * reader by what it must touch.
 */
const src = fileURLToPath(new URL("../../src", import.meta.url));
const files = (folder: string): string[] =>
  readdirSync(folder).flatMap((name) => {
    const path = join(folder, name);
    return statSync(path).isDirectory() ? files(path) : path.endsWith(".ts") ? [path] : [];
  });

/** Files outside that touch the words of a row: to carry them over or to show them, and why. */
const mayTouch: Readonly<Record<string, string>> = {
  "records/study.ts": "the type of the row",
  "records/parse-study.ts": "makes the row",
  "series/build-series.ts": "order of rows",
  "series/apply-decisions.ts": "puts a decided value in its place",
  "series/nearest-row.ts": "names a row that was perhaps meant",
  "archive/archived-tables.ts": "keeps the words beside the number",
  "analysis/quiet-observations.ts": "leaves words of people out",
  "report/animal/observations-table.ts": "shows the words",
};

/** Matches a word for none: the mark of a reader of its own. */
const noneReader = /\/[^/\n]*\b(none|nil)\b[^/\n]*\/[a-z]*\s*\.test\(|["']nil["']/;

const sources = files(src)
  .map((path) => ({
    name: relative(src, path).replaceAll("\\", "/"),
    text: readFileSync(path, "utf8"),
  }))
  .filter(({ name }) => !name.startsWith("series/signs/"));

describe("observations have one reader", () => {
  it("nobody else touches what was written in them", () => {
    const touching = sources.filter(({ text }) => /\bvalueText\b/.test(text)).map((f) => f.name);
    expect(touching.filter((name) => mayTouch[name] === undefined)).toEqual([]);
    expect(Object.keys(mayTouch).filter((name) => !touching.includes(name))).toEqual([]);
  });

  it("nobody else turns a written unit of a sign into another", () => {
    // A range of a profile is no sign: the owner of profiles reads its unit, and says so.
    const ofProfiles = ["species/override-profile.ts", "core/messages/species.ts"];
    const found = sources.filter(
      ({ name, text }) =>
        !name.startsWith("units/") && !ofProfiles.includes(name) && /"degF"|fahrenheit/i.test(text),
    );
    expect(found.map((f) => f.name)).toEqual([]);
  });

  it("nobody else decides what a word for none means", () => {
    // Cells of numbers have words for nothing of their own.
    const others = sources.filter(({ name }) => !/^(records|core\/messages)\//.test(name));
    expect(others.filter(({ text }) => noneReader.test(text)).map((f) => f.name)).toEqual([]);
  });

  it("would notice one", () => {
    expect(noneReader.test('const none = /^(no|none|nil)$/i.test(row.valueText ?? "")')).toBe(true);
    expect(noneReader.test('["none", "nil"].includes(text)')).toBe(true);
  });
});
