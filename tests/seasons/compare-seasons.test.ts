import { describe, expect, it } from "vitest";
import { noticeText } from "../../src/core/catalogue.js";
import { UsageError } from "../../src/core/usage-error.js";
import { compareSeasons } from "../../src/seasons/compare-seasons.js";
import { type MadeAnimal, madeStudy } from "./made-study.js";

const window = { fromAgeD: 21, toAgeD: 84 };
const season = (
  name: string,
  gains: readonly number[],
  more: Partial<MadeAnimal> = {},
): MadeAnimal[] =>
  gains.map((gain, i) => ({
    id: `${name}-${i}`,
    season: name,
    gain,
    arrivalMassG: 1700 + 40 * i,
    arrivalAgeD: 4 + (i % 3),
    ...more,
  }));
const low = [38, 41, 40, 37, 42, 39];
const high = [49, 52, 50, 47, 53, 51];

describe("comparing seasons", () => {
  const study = madeStudy([...season("2031", low), ...season("2032", high)]);
  const result = compareSeasons(study, { species: "sea otter", window, runs: 499, seed: 3 });
  const pair = result.value.pairs[0]!;

  it("finds a difference of ten and says how sure it is", () => {
    expect(pair.decision).toBe("differs");
    expect(Math.abs(pair.difference.value! - 10.8)).toBeLessThan(1.5);
    expect(pair.difference.interval!.lower).toBeLessThan(pair.difference.value!);
    const text = pair.sentences.map((s) => noticeText(s)).join(" ");
    expect(text).toMatch(/2032 gained .* g\/d more than 2031/);
    expect(text).toMatch(/What else could explain/);
  });

  it("gives the sentence the other way round for the other order, not another answer", () => {
    const back = compareSeasons(study, {
      species: "sea otter",
      window,
      pair: ["2032", "2031"],
      runs: 0,
    });
    expect(back.value.pairs[0]!.difference.value).toBeCloseTo(-pair.difference.value!, 10);
    expect(noticeText(back.value.pairs[0]!.sentences[0]!)).toMatch(
      /2031 gained .* g\/d less than 2032/,
    );
    expect(back.value.pairs[0]!.sentences[0]!.parameters["lower"]).toBeGreaterThan(0);
  });

  it("never gives a mean without n and spread", () => {
    for (const s of result.value.seasons) {
      expect(s.n).toBe(6);
      expect(s.gain.sd).not.toBeNull();
      expect(s.adjusted.se).toBeGreaterThan(0);
      expect(s.adjusted.n).toBe(6);
    }
  });

  it("says that the season is the unit and that two seasons have no past", () => {
    const codes = result.value.sentences.map((s) => s.code);
    expect(codes).toContain("season-is-the-unit");
    expect(codes).toContain("season-no-past");
  });

  it("does not depend on the order of the animals or on the day the study began", () => {
    const animals = [...season("2031", low), ...season("2032", high)].map((a, i) => ({
      ...a,
      noiseG: 0,
      sex: i % 2 ? ("male" as const) : ("female" as const),
      birthAt: Date.UTC(2031, 2, 1 + i),
    }));
    const run = (list: readonly MadeAnimal[]) =>
      compareSeasons(madeStudy(list), { species: "sea otter", window, runs: 0 }).value.pairs[0]!
        .difference;
    const plain = run(animals);
    expect(run([...animals].reverse()).value).toBeCloseTo(plain.value!, 8);
    const later = animals.map((a) => ({ ...a, birthAt: a.birthAt + 77 * 86_400_000 }));
    expect(run(later).value).toBeCloseTo(plain.value!, 8);
  });

  it("is plain data without NaN", () => {
    const text = JSON.stringify(result);
    expect(JSON.parse(text)).toEqual(result);
  });
});

describe("when nothing is shown", () => {
  const study = madeStudy([...season("2031", low), ...season("2032", [39, 42, 41, 38, 42, 38])]);

  it("says what could have been found and how many animals it would take", () => {
    const pair = compareSeasons(study, { species: "sea otter", window, runs: 199, seed: 4 }).value
      .pairs[0]!;
    expect(pair.decision).toBe("not shown");
    expect(pair.detectable!.difference).toBeGreaterThan(0);
    const codes = pair.sentences.map((s) => s.code);
    expect(codes).toContain("season-detectable");
    expect(codes).toContain("season-animals-needed");
    expect(noticeText(pair.sentences[0]!)).toMatch(/not proof that they grew alike/);
  });

  it("shows likeness only against a margin set beforehand", () => {
    const wide = compareSeasons(study, { species: "sea otter", window, runs: 0, margin: 8 }).value
      .pairs[0]!;
    expect(wide.decision).toBe("alike within the margin");
    const tight = compareSeasons(study, { species: "sea otter", window, runs: 0, margin: 0.2 })
      .value.pairs[0]!;
    expect(tight.decision).toBe("not shown");
    expect(tight.equivalence!.shown).toBe(false);
  });
});

describe("who is compared", () => {
  it("leaves out and counts the dead, the departed, the late and the undated", () => {
    const study = madeStudy([
      ...season("2031", low),
      ...season("2032", high),
      { id: "dead", season: "2032", gain: 20, untilAgeD: 40, outcome: "died" },
      { id: "gone", season: "2032", gain: 45, untilAgeD: 50, outcome: "transferred" },
      { id: "late", season: "2032", gain: 45, arrivalAgeD: 35 },
      { id: "undated", season: "2032", gain: 45, usable: false },
    ]);
    const result = compareSeasons(study, { species: "sea otter", window, runs: 0 });
    expect(result.basis.used).toBe(12);
    expect(Object.fromEntries(result.basis.leftOut.map((l) => [l.reason, l.count]))).toEqual({
      "season-died-before-end": 1,
      "season-left-before-end": 1,
      "season-arrived-late": 1,
      "season-age-unusable": 1,
    });
    expect(result.value.sentences.map((s) => s.code)).toContain("season-survivors-only");
  });

  it("does not compare a season of two", () => {
    const study = madeStudy([...season("2031", low), ...season("2032", [50, 51])]);
    const result = compareSeasons(study, { species: "sea otter", window, runs: 0 });
    expect(result.value.pairs).toEqual([]);
    expect(noticeText(result.value.sentences[0]!)).toMatch(/2032 has 2 animals/);
  });

  it("widens the interval where birth ranges exceed three days", () => {
    const narrow = madeStudy([...season("2031", low), ...season("2032", high)]);
    const wide = madeStudy([...season("2031", low, { rangeDays: 8 }), ...season("2032", high)]);
    const width = (s: typeof narrow) => {
      const d = compareSeasons(s, { species: "sea otter", window, runs: 0 }).value.pairs[0]!
        .difference;
      return d.interval!.upper! - d.interval!.lower!;
    };
    expect(width(wide)).toBeGreaterThanOrEqual(width(narrow));
    const codes = compareSeasons(wide, {
      species: "sea otter",
      window,
      runs: 0,
    }).value.sentences.map((s) => s.code);
    expect(codes).toContain("season-birth-range");
  });

  it("names a caller's mistake", () => {
    const study = madeStudy(season("2031", low));
    expect(() => compareSeasons(study, { species: "walrus", window })).toThrow(UsageError);
    expect(() =>
      compareSeasons(study, { species: "sea otter", window: { fromAgeD: 9, toAgeD: 3 } }),
    ).toThrow(/0 <= fromAgeD/);
  });
});

describe("a protocol and its season", () => {
  const study = madeStudy([
    ...season("2031", low),
    ...season(
      "2032",
      low.map((g) => g + 1),
    ),
    ...season(
      "2033",
      low.map((g) => g - 1),
    ),
    ...season("2034", high),
  ]);

  it("never claims the cause and sets the difference beside the past spread", () => {
    const result = compareSeasons(study, {
      species: "sea otter",
      window,
      runs: 0,
      protocolChanges: [{ season: "2034", what: "another formula" }],
    });
    const text = result.value.sentences.map((s) => noticeText(s)).join("\n");
    expect(text).toMatch(/protocol cannot be told from season/);
    expect(text).toMatch(/No cause is claimed/);
    expect(text).toMatch(/2034 against 2031, 2032 and 2033, each season counted once/);
    expect(text).not.toMatch(/because of the (formula|protocol)/);
  });

  it("lets many pairs without a shown difference share one sentence, the largest keeping its own", () => {
    const near = (by: number) => low.map((g) => g + by);
    const alike = madeStudy(
      [0, 0.5, 1, -0.5].flatMap((by, i) => season(String(2031 + i), near(by))),
    );
    const { sentences, pairs } = compareSeasons(alike, {
      species: "sea otter",
      window,
      runs: 0,
    }).value;
    expect(pairs.map((p) => p.decision)).toEqual(Array(6).fill("not shown"));
    const of = (code: string) => sentences.filter((s) => s.code === code);
    expect(of("season-not-shown")).toHaveLength(1);
    expect(of("season-not-shown-several")).toHaveLength(1);
    expect(of("season-not-shown-several")[0]!.parameters["pairs"]).toHaveLength(5);
    expect(noticeText(of("season-not-shown-several")[0]!)).toMatch(
      /not proof that they grew alike/,
    );
  });

  it("adjusts p for the six pairs (Holm)", () => {
    const pairs = compareSeasons(study, { species: "sea otter", window, runs: 0 }).value.pairs;
    expect(pairs).toHaveLength(6);
    for (const p of pairs) expect(p.adjustedP).toBeGreaterThanOrEqual(p.p);
  });
});

describe("a window of masses", () => {
  it("serves animals without a usable age, and warns of what it does to a difference", () => {
    const study = madeStudy([
      ...season("2031", low, { usable: false }),
      ...season("2032", high, { usable: false }),
    ]);
    const result = compareSeasons(study, {
      species: "sea otter",
      window: { fromMassG: 2200, toMassG: 4500 },
      runs: 0,
    });
    const pair = result.value.pairs[0]!;
    expect(pair.decision).toBe("differs");
    expect(Math.abs(pair.difference.value! - 10.8)).toBeLessThan(2.5);
    expect(result.value.mixed).toBeNull();
    expect(result.value.model!.used).not.toContain("arrival age");
    const text = result.value.sentences.map((s) => noticeText(s)).join(" ");
    expect(text).toMatch(/over masses 2200 to 4500 g/);
    expect(text).toMatch(/seen smaller than it is/);
  });

  it("leaves out who arrived heavier and who never got there", () => {
    const study = madeStudy([
      ...season("2031", low),
      ...season("2032", high),
      { id: "heavy", season: "2031", gain: 40, arrivalMassG: 2500 },
      { id: "slow", season: "2031", gain: 10 },
    ]);
    const { basis } = compareSeasons(study, {
      species: "sea otter",
      window: { fromMassG: 2200, toMassG: 4500 },
      runs: 0,
    });
    expect(basis.leftOut.map((l) => l.reason).sort()).toEqual([
      "season-arrived-heavy",
      "season-left-before-end",
    ]);
  });
});
