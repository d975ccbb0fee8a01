import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { parseStudy } from "../../src/records/parse-study.js";
import { buildSeries } from "../../src/series/build-series.js";
import { signSpellings } from "../../src/series/signs/sign-spellings.js";
import { dullStudy } from "./corpus/dull-study.js";
import {
  orderSpellingsTable,
  signSpellingsTable,
  withOrderSpellings,
  withSignSpellings,
} from "./readme-spellings.js";

const readme = readFileSync(new URL("../../README.md", import.meta.url), "utf8");

describe("how orders may be written", () => {
  it("stands in the README as the lists of the reader have it", () => {
    expect(readme).toContain(orderSpellingsTable());
    expect(withOrderSpellings(readme)).toBe(readme);
  });

  it("would be out of step with one spelling more or less", () => {
    expect(withOrderSpellings(readme.replace("npo, ", "")).includes("npo, ")).toBe(true);
    expect(readme.replace("npo, ", "")).not.toContain(orderSpellingsTable());
  });
});

describe("how observations may be written", () => {
  it("stands in the README as the lists of the reader have it", () => {
    expect(readme).toContain(signSpellingsTable());
    expect(withSignSpellings(readme)).toBe(readme);
  });

  it("is read as the table says, for what was looked for and not found, and what nobody looked for", () => {
    const told = signSpellings().filter(
      ({ where, readAs }) =>
        where === "observations" && (readAs === "looked, none" || readAs === "not looked"),
    );
    const lines = told.flatMap(({ written }, t) =>
      written.map(
        (word, i) => `P1,2025-05-10 0${t}:${String(i % 60).padStart(2, "0")},vomit,"${word}",,`,
      ),
    );
    const files = dullStudy({
      put: { observations: `animal_id,at,kind,value,unit,notes\n${lines.join("\n")}\n` },
    });
    const study = parseStudy(
      Object.entries(files).map(([path, text]) => ({
        path,
        bytes: new TextEncoder().encode(String(text)),
      })),
    );
    const signs = buildSeries(study).animals.flatMap((a) => a.signs);
    const state = new Map(signs.map((s) => [s.written, s.state]));
    const wrong = told.flatMap(({ written, readAs }) =>
      written.filter((word) => state.get(word) !== (readAs === "not looked" ? readAs : "none")),
    );
    expect(wrong).toEqual([]);
  });
});
