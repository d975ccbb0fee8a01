import { describe, expect, it } from "vitest";
import * as stats from "../../src/stats/index.js";

const x = { kind: "number", values: [1, 2, 3, 4] } as const;

describe("a wrong shape is named as the mistake it is", () => {
  it.each<[string, () => unknown, RegExp]>([
    [
      "a variable of a design given as a bare list",
      () => stats.buildDesign({ x: [1, 2] } as never, [["x"]]),
      /x as \{ kind: .*a bare list came/,
    ],
    [
      "a term given as a word",
      () => stats.buildDesign({ x }, ["x"] as never),
      /terms as lists of names/,
    ],
    [
      "text in a numeric variable",
      () => stats.buildDesign({ x: { kind: "number", values: ["a", 2] } } as never, [["x"]]),
      /row 0 is the text "a"/,
    ],
    [
      "text where a design is asked at a value",
      () => stats.buildDesign({ x }, [["x"]]).rowAt({ x: "3" }),
      /x as a number, but the text "3"/,
    ],
    [
      "event marks as text, of which every one would count",
      () => stats.kaplanMeier({ time: [1, 2], event: ["0", "1"] } as never),
      /event marks, but row 0 is the text "0"/,
    ],
    [
      "rows where two lists are needed",
      () => stats.kaplanMeier([{ time: 1, event: 1 }] as never),
      /\{ time, event \}/,
    ],
    [
      "one list where groups are compared",
      () => stats.oneWayAnova([1, 2, 3] as never),
      /a list of numbers as group 0/,
    ],
    [
      "a number where groups are compared",
      () => stats.oneWayAnova(3 as never),
      /no list of groups/,
    ],
    [
      "curves of a Box-Cox fit that are none",
      () => stats.fitLms([1, 2, 3], {} as never, {} as never, {} as never),
      /three curves/,
    ],
    [
      "nothing where values are needed",
      () => stats.describe(null as never),
      /a list of numbers as the values, but null/,
    ],
    [
      "the data where their number is needed",
      () => stats.oneWayAnova(undefined as never),
      /no list of groups/,
    ],
  ])("%s", (_, call, words) => {
    expect(call).toThrow(expect.objectContaining({ name: "UsageError" }));
    expect(call).toThrow(words);
  });

  it("a bootstrap given the data instead of their number", async () => {
    await expect(stats.bootstrap([1, 2, 3] as never, () => 1)).rejects.toThrow(/a list of 3 came/);
  });

  it("gaps are counted where they are left out, and text never passes for one", () => {
    expect(stats.describe([1, null, 3])).toMatchObject({ n: 2, missing: 1, mean: 2 });
    expect(() => stats.describe([1, "2", 3] as never)).toThrow(/row 1 is the text "2"/);
  });
});
