import { createRequire } from "node:module";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { UsageError } from "../../src/core/usage-error.js";
import { displayBundle } from "../../src/notebook/display-bundle.js";

/** What a person may hand to `show` by mistake: it is shown, or refused in a sentence. */
const circle: Record<string, unknown> = { a: 1 };
circle["self"] = circle;
const deep: Record<string, unknown> = {};
for (let at = deep, i = 0; i < 20_000; i++) {
  at["a"] = {};
  at = at["a"] as Record<string, unknown>;
}
const odd: Readonly<Record<string, unknown>> = {
  "no number": Number.NaN,
  "a big integer": 10n,
  "big integers": { a: 10n, b: { c: 10n } },
  "a symbol": { a: Symbol("x") },
  "a function": () => 1,
  "a method": { toString() {}, toHtml: 1 },
  "a day of the language": new Date(0),
  "no day": new Date(Number.NaN),
  "a map": new Map([[1, 2]]),
  "an error": new Error("boom"),
  "a circle": circle,
  "a list of circles": [circle],
  "something deep": deep,
  "no prototype": Object.create(null),
  "numbers of the machine": new Float64Array([1, Number.NaN]),
  "a list with holes": Object.assign(new Array(4), { 1: 1, 3: 2 }),
  "half a letter": "\uD800",
  "an empty row": [{}],
  ...Object.fromEntries(
    ["chart", "section", "table", "text", "list", "notices", "chart-block", "fold"].map((kind) => [
      `what calls itself a ${kind}`,
      { kind, spec: null, blocks: null, columns: null, rows: 3 },
    ]),
  ),
  "what looks like a result": { kind: "x", value: null, method: null, notices: null },
};

function shownOrRefused(value: unknown): void {
  try {
    expect(typeof displayBundle(value)["text/plain"]).toBe("string");
  } catch (error) {
    expect(error).toBeInstanceOf(UsageError);
    expect((error as Error).message).not.toMatch(/\n/);
  }
}

describe("show", () => {
  it.each(Object.keys(odd))("of %s shows it or says a sentence", (name) =>
    shownOrRefused(odd[name]),
  );

  it("of anything else, too", () => {
    const anything = fc.anything({
      withBigInt: true,
      withDate: true,
      withMap: true,
      withSet: true,
      withNullPrototype: true,
      withTypedArray: true,
      withSparseArray: true,
    });
    fc.assert(fc.property(anything, shownOrRefused), { seed: 20_261_130, numRuns: 500 });
  });
});

interface Frames {
  readonly DataFrame: new (rows: readonly object[], more?: object) => { readonly values: unknown };
  readonly Series: new (values: readonly unknown[]) => object;
}
const danfo = (() => {
  try {
    return createRequire(import.meta.url)("danfojs-node") as Frames;
  } catch {
    return null;
  }
})();

describe.skipIf(danfo === null)("a data frame of another library", () => {
  it("keeps what is not known, and is shown without rows", () => {
    const { DataFrame, Series } = danfo!;
    const rows = [
      { animalId: "A1", gainGPerD: null, massG: 2000 },
      { animalId: "A2", gainGPerD: 31.5, massG: null },
    ];
    const frame = new DataFrame(rows);
    expect(frame.values).toEqual(rows.map((row) => Object.values(row)));
    expect(displayBundle(frame)["text/plain"]).toMatch(/null/);
    const unknown = new DataFrame(rows.map(() => ({ a: null })));
    expect(unknown.values).toEqual([[null], [null]]);
    for (const empty of [
      new DataFrame([]),
      new DataFrame([], { columns: ["a", "b"] }),
      new Series([]),
    ])
      expect(typeof displayBundle(empty)["text/plain"]).toBe("string");
  });
});
