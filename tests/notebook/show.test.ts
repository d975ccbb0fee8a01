import { fileURLToPath } from "node:url";
import { describe, expect, it, vi } from "vitest";
import { measured } from "../../src/core/measured.js";
import { notice } from "../../src/core/notice.js";
import type { Result } from "../../src/core/result.js";
import { displayBundle } from "../../src/notebook/display-bundle.js";
import { notebookParameters } from "../../src/notebook/parameters.js";
import { show } from "../../src/notebook/show.js";
import { readStudy } from "../../src/records/files/read-study.js";
import { chartMime } from "../../src/report/renderers/notebook-file.js";
import { section, table, text } from "../../src/report/section/section.js";
import { full } from "../charts/sample-charts.js";

const result: Result<"trial", unknown> = {
  kind: "trial",
  schema: 1,
  value: { gain: measured(61.2, "g/d", { se: 3.1 }), rows: [{ name: "Mica", massG: 2000 }] },
  method: { name: "a method", options: {}, citations: [] },
  basis: { used: 8, of: "weighings", leftOut: [{ reason: "wet coat", count: 2 }] },
  diagnostics: {},
  notices: [notice("series-no-weighings", "problem", { animal: "P1" })],
};

describe("displayBundle", () => {
  it("gives a chart in three forms and as plain data, the specification as an object", () => {
    const bundle = displayBundle(full["gain"]);
    expect(Object.keys(bundle)).toEqual([
      "application/vnd.vegalite.v5+json",
      "image/svg+xml",
      chartMime,
      "text/plain",
    ]);
    expect(typeof bundle["application/vnd.vegalite.v5+json"]).toBe("object");
    expect(bundle["image/svg+xml"]).toMatch(/^<svg /);
    expect(bundle["text/plain"]).toMatch(/n = 6 values/);
  });

  it("gives tables, sections, results, rows and notices as HTML and text", () => {
    const things = [
      table("t", "T", [{ title: "A" }], [["x"]]),
      section("S", [text("words")]),
      result,
      [{ name: "Mica", massG: 2000 }],
      [notice("series-no-weighings", "problem", { animal: "P1" })],
    ];
    for (const thing of things) {
      const bundle = displayBundle(thing);
      expect(Object.keys(bundle).sort()).toEqual(["text/html", "text/plain"]);
      expect(String(bundle["text/plain"]).length).toBeGreaterThan(3);
    }
    const shown = String(displayBundle(result)["text/plain"]);
    for (const part of ["61 g/d (55 to 67)", "Mica", "8 weighings", "2 left out: wet coat"]) {
      expect(shown).toContain(part);
    }
  });

  it("writes numbers for the eye and nothing as nothing", () => {
    expect(displayBundle(12345.678)["text/plain"]).toBe("12\u202f346");
    expect(displayBundle(measured(61.234, "g/d"))["text/plain"]).toBe("61 g/d");
    expect(displayBundle(null)["text/plain"]).toBe("nothing");
    expect(displayBundle([])["text/plain"]).toMatch(/nothing/);
  });

  it("shows what was read table by table, and of a long table its first rows as rows", async () => {
    const study = await readStudy(fileURLToPath(new URL("../../data-demo", import.meta.url)));
    const read = String(displayBundle(study)["text/plain"]);
    expect(read).toContain(`${study.settings.title}: what was read`);
    for (const { table, accepted } of study.counts)
      expect(read.replace(/\u202f/g, "")).toMatch(new RegExp(`${table}.*${accepted}`));
    const feeds = String(displayBundle(study.tables.feeds)["text/plain"]).replace(/\u202f/g, "");
    expect(feeds).toContain(`The first 100 of ${study.tables.feeds.length} rows`);
    const { animalId, dietId, at } = study.tables.feeds.at(99)!;
    const minute = new Date(at).toISOString().slice(0, 16).replace("T", " ");
    expect(feeds).toMatch(new RegExp(`${animalId}.*${minute} UTC.*${dietId}`));
    // A list that one makes of it is shown alike.
    expect(displayBundle([...study.tables.feeds])["text/plain"]).toBe(
      displayBundle(study.tables.feeds)["text/plain"],
    );
    expect(displayBundle([study.tables.feeds.at(0)!])["text/plain"]).toMatch(/^1 row\b/);
    expect(String(displayBundle(Array.from({ length: 250 }, (_, i) => i))["text/plain"])).toContain(
      "and 150 more",
    );
  });

  it("counts one entry as one", () => {
    expect(displayBundle(new Set([1]))["text/plain"]).toBe("1 entry; shown as [...it]");
    expect(displayBundle({ a: [{}] })["text/plain"]).toMatch(/1 entry$/);
  });

  it("escapes what it is given", () => {
    expect(displayBundle("<b>x</b>")["text/html"]).toBe("<p>&#60;b&#62;x&#60;/b&#62;</p>");
  });

  it("refuses a promise and says that an await is missing", () => {
    expect(() => displayBundle(Promise.resolve(1))).toThrow(/await/);
    expect(() => displayBundle(() => 1)).toThrow(/function/);
  });
});

describe("show outside a notebook", () => {
  it("prints the text", () => {
    const printed: unknown[] = [];
    const log = vi.spyOn(console, "log").mockImplementation((line) => void printed.push(line));
    show(measured(61.234, "g/d"), "words");
    log.mockRestore();
    expect(printed).toEqual(["61 g/d", "words"]);
  });
});

describe("notebookParameters", () => {
  it("hands back what is whole, frozen", () => {
    const chosen = notebookParameters({ animal: "Mica", days: 7, onDay: null });
    expect(chosen).toEqual({ animal: "Mica", days: 7, onDay: null });
    expect(Object.isFrozen(chosen)).toBe(true);
  });

  it("names the one that is not", () => {
    expect(() => notebookParameters({ animal: " " })).toThrow(
      /a value for animal, but it is empty/,
    );
    expect(() => notebookParameters({ days: Number.NaN })).toThrow(/days/);
  });
});
