import { describe, expect, it } from "vitest";
import { readTally } from "../../../src/series/signs/read-tally.js";
import { tokensOf } from "../../../src/series/signs/tokens.js";

/** What a number of a line says, and how many pieces of the line it takes. */
const read = (line: string, from = 0) => {
  const found = readTally(tokensOf(line), from);
  return found === null ? null : [found.items, found.length];
};
const times = (count: number, length: number) => [[{ is: "tally", count, amount: null }], length];
const amount = (value: number, unit: string, length: number) => [
  [{ is: "tally", count: null, amount: { value, unit } }],
  length,
];
const bare = (value: number, length = 1) => [[{ is: "bare number", value }], length];

describe("how often", () => {
  it("is a number with a word for times, before or behind it", () => {
    expect([read("2x"), read("x3"), read("× 4"), read("5 times"), read("1 episode")]).toEqual([
      times(2, 2),
      times(3, 2),
      times(4, 2),
      times(5, 2),
      times(1, 2),
    ]);
    // An x alone, or another word before a number, is none.
    expect([read("x"), read("x ray"), read("stool 2")]).toEqual([null, null, null]);
    expect(read("vomit 2x", 1)).toEqual(times(2, 2));
  });

  it("is a word, with times behind it or one that says so by itself", () => {
    expect([read("three times"), read("two episodes"), read("once"), read("twice today")]).toEqual([
      times(3, 2),
      times(2, 2),
      times(1, 1),
      times(2, 1),
    ]);
    for (const [word, n] of [
      ...([
        ["thrice", 3],
        ["several", 3],
        ["multiple", 2],
        ["many", 3],
      ] as const),
      ...([
        ["repeated", 2],
        ["repeatedly", 2],
        ["couple", 2],
      ] as const),
    ])
      expect(read(`${word} stools`)).toEqual(times(n, 1));
    // "One stool" counts the stool, not how often; so do words that are none.
    expect([read("three stools"), read("one"), read("constructor times")]).toEqual([
      null,
      null,
      null,
    ]);
  });

  it("of a range is the larger", () => {
    expect([read("1-2 times"), read("3 to 2 x"), read("1,5 - 2")]).toEqual([
      times(2, 4),
      times(3, 4),
      bare(2, 3),
    ]);
    expect([read("1 - x"), read("1 to"), read("2 + 3")]).toEqual([bare(1), bare(1), bare(2)]);
  });
});

describe("how much", () => {
  it("is a mass in grams or a volume in millilitres", () => {
    expect([read("5 g"), read("0.5 kg"), read("10 ml"), read("1,5 l")]).toEqual([
      amount(5, "g", 2),
      amount(500, "g", 2),
      amount(10, "mL", 2),
      amount(1500, "mL", 2),
    ]);
    expect(read("1-2 g")).toEqual(amount(2, "g", 4));
    // Of another dimension it is a number alone.
    expect([read("5 kcal"), read("5 spoons"), read("5")]).toEqual([bare(5), bare(5), bare(5)]);
  });

  it("in hundredths is a share", () => {
    expect(read("5 %")).toEqual([[{ is: "percent", value: 5 }], 2]);
    expect(read("5-7 %")).toEqual([[{ is: "percent", value: 7 }], 4]);
  });
});

describe("a time", () => {
  it("of the clock, or a span of it, says neither", () => {
    const nothing = (length: number) => [[], length];
    expect([read("06:10"), read("0610"), read("12 h"), read("2-3 hours"), read("7 o")]).toEqual([
      nothing(1),
      nothing(1),
      nothing(2),
      nothing(4),
      nothing(2),
    ]);
    expect([read("1030"), read("06101"), read("061")]).toEqual([bare(1030), bare(6101), bare(61)]);
  });
});

describe("anything else", () => {
  it("is no number", () => {
    expect([read("vomit"), read("?"), read(", 2")]).toEqual([null, null, null]);
  });
});
