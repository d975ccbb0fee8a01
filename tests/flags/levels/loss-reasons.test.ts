import { describe, expect, it } from "vitest";
import type { LevelCase } from "../../../src/flags/levels/level-case.js";
import { lossIsJudged, lossReasons } from "../../../src/flags/levels/loss-reasons.js";
import type { NetWeighing, WeighingRow } from "../../../src/series/animal-series.js";
import { day, hour } from "../../rates/small-study.js";
import { at, type CaseParts, caseOf } from "./case-of.js";

/**
 * Limits of the project, common practice: 5 % is looked at, 10 % a danger, a danger counting
 * two standard errors of both readings. The scale here errs by nothing unless a test says so.
 */
const exact = { settings: { scaleErrorG: { s1: 0 } } };
/** Grams on the days before `at`, the last of them one hour ago. */
const masses = (...grams: readonly number[]) =>
  grams.map((g, i) => [at - hour - (grams.length - 1 - i) * day, g] as const);
const of = (parts: CaseParts, over: Parameters<typeof caseOf>[1] = {}) =>
  lossReasons(caseOf({ ...exact, ...parts }, over));
const levels = (...a: Parameters<typeof of>) => of(...a).map((r) => r.level);

/** The case with weighings changed: hours before `at`, what is otherwise. */
function changed(
  c: LevelCase,
  backH: number,
  more: Partial<NetWeighing>,
  row: Partial<WeighingRow> = {},
) {
  const weighings = c.series.weighings.map((w) =>
    Math.abs(w.at - (at - backH * hour)) < 1 ? { ...w, ...more, row: { ...w.row, ...row } } : w,
  );
  // What is under suspicion or unusual stands for no day here.
  const stands = (t: number) => weighings.some((w) => w.at === t && w.slip === null);
  const daily = c.series.daily.filter((d) => stands(d.at));
  return { ...c, series: { ...c.series, weighings, daily } } as LevelCase;
}

describe("a loss of mass", () => {
  it("of 5 % is looked at, of 10 % a danger", () => {
    expect(levels({ weighings: masses(2000, 1901) })).toEqual([]);
    expect(levels({ weighings: masses(2000, 1900) })).toEqual(["second look"]);
    expect(levels({ weighings: masses(2000, 1801) })).toEqual(["second look"]);
    expect(levels({ weighings: masses(2000, 1800) })).toEqual(["danger"]);
    expect(levels({ weighings: masses(2000, 2300) })).toEqual([]);
  });

  it("says from what to what, and one per cent more is further", () => {
    const [look, ...more] = of({ weighings: masses(2000, 1880) });
    expect(more).toEqual([]);
    expect(look).toMatchObject({
      what: "loss",
      at: at - hour,
      act: null,
      byAt: null,
      size: { unit: "% of mass", outwards: "higher", step: 1 },
    });
    expect(look!.size!.value).toBeCloseTo(6, 9);
    expect(look!.sentence).toMatchObject({
      level: "caution",
      parameters: {
        now: 1880,
        from: "admission",
        before: 2000,
        beforeAt: at - hour - day,
        limit: 5,
        danger: false,
        doubted: false,
      },
    });
    const [danger] = of({ weighings: masses(2000, 1700) });
    expect(danger).toMatchObject({
      level: "danger",
      act: "call now, feed as ordered",
      byAt: at,
      suggestionsWait: true,
    });
    expect(danger!.sentence).toMatchObject({
      level: "problem",
      parameters: { limit: 10, danger: true },
    });
  });

  it("is told once, against what it has lost most of", () => {
    const [reason, ...more] = of({ weighings: masses(2000, 2100, 2200, 2200, 2000) });
    expect(more).toEqual([]);
    expect(reason!.sentence.parameters["before"]).toBe(2200);
  });

  it("counts the scale's error for a danger, and not for a look", () => {
    // 10 g on 2,000 g: both readings together 0.7 to 0.8 %, twice that 1.5 %.
    const scale = { settings: { scaleErrorG: { s1: 10 } } };
    expect(levels({ weighings: masses(2000, 1825), ...scale })).toEqual(["danger"]);
    expect(levels({ weighings: masses(2000, 1835), ...scale })).toEqual(["second look"]);
    expect(levels({ weighings: masses(2000, 1905), ...scale })).toEqual([]);
    // A level of three days errs by two thirds of that: 1.3 % in all, not 1.5.
    const three = (g: number) =>
      levels({
        weighings: masses(1000, 2000, 2000, 2000, 2000, 2000, 1999, g)
          .slice(0, 5)
          .concat(masses(g)),
        ...scale,
      });
    expect(three(1800)).toEqual(["danger"]);
  });

  it("is measured by limits that can be set, each of which can be switched off", () => {
    const set = (limits: CaseParts["limits"]) => levels({ weighings: masses(2000, 1880), limits });
    expect(set({ lossPct: 6.1 })).toEqual([]);
    expect(set({ acuteLossPct: 6 })).toEqual(["danger"]);
    expect(set({ lossPct: null })).toEqual([]);
    const off = { lossPct: 5, acuteLossPct: null };
    expect(levels({ weighings: masses(2000, 1500), limits: off })).toEqual(["second look"]);
  });

  it("that the reading before confirms is looked at from nine tenths of the limit on", () => {
    // 4.5 % and 3.5 % below the first: 4 % in the mean, four fifths of the limit.
    expect(levels({ weighings: masses(2000, 1930, 1910) })).toEqual(["second look"]);
    expect(levels({ weighings: masses(2000, 1932, 1910) })).toEqual([]);
    expect(levels({ weighings: masses(2000, 1928, 1911) })).toEqual([]);
    const lastDay = (back: number) =>
      levels({
        weighings: [
          [at - 9 * day, 2000],
          [at - hour - back * day, 1930],
          [at - hour, 1910],
        ],
      });
    expect(lastDay(2.25)).toEqual(["second look"]);
    expect(lastDay(2.3)).toEqual([]);
  });
});

describe("a reading in unusual condition", () => {
  const base = (g: number) => caseOf({ ...exact, weighings: masses(2000, g) });
  it("must be exceeded twice: a wet coat may add or hide 8 %", () => {
    const then = (coat: WeighingRow["coat"], g: number) =>
      lossReasons(changed(base(g), 25, {}, { coat })).map((r) => r.level);
    expect(then("wet", 1841)).toEqual([]);
    expect(then("wet", 1839)).toEqual(["second look"]);
    expect(then("damp", 1890)).toEqual(["second look"]);
    expect(then("dry", 1890)).toEqual(["second look"]);
    const fed = (g: number) =>
      lossReasons(changed(base(g), 25, {}, { meal: "after" })).map((r) => r.level);
    expect(fed(1881)).toEqual([]);
    expect(fed(1879)).toEqual(["second look"]);
    // Wet and fed: the square root of both squares, 5 %, twice.
    const both = (g: number) =>
      lossReasons(changed(base(g), 25, {}, { coat: "wet", meal: "after" })).map((r) => r.level);
    expect(both(1801)).toEqual([]);
    expect(both(1799)).toEqual(["danger"]);
  });

  it("now counts as well as then", () => {
    const now = (g: number) =>
      lossReasons(changed(base(g), 1, {}, { coat: "wet" })).map((r) => r.level);
    expect(now(1841)).toEqual([]);
    expect(now(1839)).toEqual(["second look"]);
  });
});

describe("the latest reading", () => {
  it("in doubt counts by its worse meaning, and says that it is in doubt", () => {
    const c = caseOf({ ...exact, weighings: masses(2000, 2000, 1880) });
    const slip = { kind: "digits swapped", suggestedG: 1980 } as unknown as NetWeighing["slip"];
    const [reason] = lossReasons(changed(c, 1, { slip }));
    expect(reason).toMatchObject({ level: "second look", at: at - hour });
    expect(reason!.sentence.parameters).toMatchObject({ now: 1880, doubted: true });
    const kinder = { kind: "digits swapped", suggestedG: 1700 } as unknown as NetWeighing["slip"];
    expect(lossReasons(changed(c, 1, { slip: kinder }))[0]!.sentence.parameters["now"]).toBe(1700);
    // A mass of another day, which this day cannot have, is nobody's.
    const day = { kind: "wrong day", suggestedG: null } as unknown as NetWeighing["slip"];
    expect(lossReasons(changed(c, 1, { slip: day, netG: 900 }))).toEqual([]);
    expect(lossReasons(changed(c, 1, { slip, netG: null }))).toEqual([]);
  });

  it("that is heavier than the one that stands does not lift the loss, a lighter one counts", () => {
    const later = (g: number, row: Partial<WeighingRow>) => {
      const weighings = [...masses(2000, 1880), [at - hour / 2, g] as const];
      const c = caseOf({ ...exact, weighings });
      const edited = c.series.weighings.map((w) =>
        w.at === at - hour / 2 ? { ...w, row: { ...w.row, ...row } } : w,
      );
      const daily = c.series.daily.filter((d) => d.at !== at - hour / 2);
      const stands = [
        ...daily.slice(0, 1),
        { ...c.series.daily.at(-1)!, at: at - hour, massG: 1880 },
      ];
      return lossReasons({
        ...c,
        series: { ...c.series, weighings: edited, daily: stands },
      })[0]?.sentence.parameters["now"];
    };
    expect(later(1980, { coat: "wet" })).toBe(1880);
    expect(later(1700, { coat: "wet" })).toBe(1700);
    // Weighed again in usual condition: that answers what stood for the day.
    expect(later(1870, {})).toBe(1870);
    expect(later(1980, {})).toBeUndefined();
    // Nothing told of coat and meal speaks for no unusual condition.
    expect(later(1980, { coat: null, meal: "unknown" })).toBeUndefined();
  });

  it("is none where no weighing stands, or the only one has no mass", () => {
    expect(of({})).toEqual([]);
    const c = caseOf({ ...exact, weighings: masses(1900) });
    expect(lossReasons(c)).toEqual([]);
    expect(lossReasons(changed(c, 1, { netG: null }))).toEqual([]);
  });
});

describe("whether a loss can be judged", () => {
  const judged = (weighings: CaseParts["weighings"]) =>
    lossIsJudged(caseOf({ weighings: weighings! }));
  it("takes two masses, the last no older than two days", () => {
    expect(judged(masses(2000))).toBe(false);
    expect(judged(masses(2000, 2000))).toBe(true);
    expect(
      judged([
        [at - 4 * day, 2000],
        [at - 2 * day + 1, 2000],
      ]),
    ).toBe(true);
    expect(
      judged([
        [at - 4 * day, 2000],
        [at - 2 * day, 2000],
      ]),
    ).toBe(false);
    expect(judged([])).toBe(false);
  });
});

describe("in a moult", () => {
  const course = [0, 1, 2, 3, 4].map((d) => [at - (6 - d) * day, 2000 * 0.97 ** d] as const);
  const moult = (...lines: readonly (readonly [number, string])[]) => ({
    observations: lines.map(([d, valueText]) => ({
      at: at - d * day,
      kind: "milestone",
      valueText,
    })),
  });

  it("a mass is held against its course and its beginning, whose limits are wider", () => {
    const last = [at - hour, 2000 * 0.97 ** 6] as const;
    const weighings = [...course, last];
    // 16.7 % below its beginning is a danger outside a moult and nothing in it.
    expect(levels({ weighings })).toEqual(["danger"]);
    expect(levels({ weighings, ...moult([6, "moult begins"]) })).toEqual([]);
    // Over for two days: the 5.9 % since its end are a loss like any other.
    const over = of({ weighings, ...moult([6, "moult begins"], [2, "moult complete"]) });
    expect(over.map((r) => [r.level, r.sentence.parameters["from"]])).toEqual([
      ["second look", "end of the fast"],
    ]);
    const faster = [...course, [at - hour, 2000 * 0.97 ** 4 * 0.85] as const];
    const found = of({ weighings: faster, ...moult([6, "moult begins"]) });
    expect(found[0]!.sentence.parameters).toMatchObject({ from: "begin", limit: 20 });
  });

  it("that has not begun yet, or is of no such milestone, changes nothing", () => {
    const weighings = masses(2000, 1880);
    expect(levels({ weighings, ...moult([3, "first swim"]) })).toEqual(["second look"]);
  });

  it("the veterinarian's floor is a danger, and the gravest", () => {
    const settings = { ...exact.settings, floorG: { P1: 1770 } };
    const weighings = [...course, [at - hour, 1769] as const];
    const [reason] = of({ weighings, settings, ...moult([6, "moult begins"]) });
    expect(reason).toMatchObject({
      level: "danger",
      what: "loss",
      act: "call now, feed as ordered",
      at: at - hour,
      byAt: at,
      size: { outwards: "higher", step: 1 },
    });
    expect(reason!.sentence).toMatchObject({
      code: "level-below-floor",
      parameters: { now: 1769, floor: 1770 },
    });
    expect(reason!.size!.value).toBeCloseTo(100 + 100 / 1770, 9);
    const above = [...course, [at - hour, 1770] as const];
    expect(of({ weighings: above, settings, ...moult([6, "moult begins"]) })).toEqual([]);
    // Outside a fast or moult it is no floor of ours.
    expect(of({ weighings: masses(1800, 1769), settings })).toEqual([]);
    const over = moult([6, "moult begins"], [2, "moult complete"]);
    expect(of({ weighings, settings, ...over }).map((r) => r.sentence.code)).not.toContain(
      "level-below-floor",
    );
    expect(
      of({
        weighings,
        settings: { ...settings, floorG: { P2: 9999 } },
        ...moult([6, "moult begins"]),
      }),
    ).toEqual([]);
  });
});

describe("what a reading is held against", () => {
  const spread = (...rows: readonly (readonly [number, number])[]) =>
    rows.map(([days, g]) => [at - hour - days * day, g] as const);

  it("is never a level that it made itself", () => {
    // Three days before it lie too far apart for a level; with itself they would make one.
    const weighings = spread([12, 1000], [5, 2100], [4, 2000], [0, 1850]);
    expect(of({ weighings })).toEqual([]);
  });

  it("is what it has lost most against, whichever is found first", () => {
    const [reason] = of({ weighings: spread([9, 2000], [1, 2200], [0, 1880]) });
    expect(reason!.sentence.parameters).toMatchObject({ from: "day before", before: 2200 });
  });

  it("is told with where its limit is from", () => {
    const source = (parts: CaseParts) => of(parts)[0]!.sentence.parameters["source"];
    const look = { weighings: masses(2000, 1880) };
    const danger = { weighings: masses(2000, 1700) };
    expect(source(look)).toBe("common practice");
    expect(source({ ...look, limits: { lossPct: 5.5 } })).toBe("set in study.json");
    expect(source({ ...look, limits: { acuteLossPct: 11 } })).toBe("common practice");
    expect(source({ ...danger, limits: { acuteLossPct: 11 } })).toBe("set in study.json");
    expect(source({ ...danger, limits: { lossPct: 5.5 } })).toBe("common practice");
  });

  it("has the error of its own weighing, not of another", () => {
    const c = caseOf({
      settings: { scaleErrorG: { s1: 0, coarse: 60 } },
      weighings: masses(2000, 1990, 1830),
    });
    // 60 g of 2,000 are 3 %: twice that and 8.5 % are a danger; the other days' scale errs by nothing.
    const level = (back: number) =>
      lossReasons(changed(c, back, {}, { scaleId: "coarse" })).map((r) => r.level);
    expect(level(49)).toEqual(["danger"]);
    const fine = lossReasons(c).map((r) => r.level);
    expect(fine).toEqual(["second look"]);
    // Its own coarse reading counts the same way.
    expect(level(1)).toEqual(["danger"]);
  });
});

describe("an animal weighed in unusual condition alone", () => {
  it("is judged by the weighing that stands for the day", () => {
    const c = caseOf({ ...exact, weighings: masses(2000, 1990, 1700) });
    const weighings = c.series.weighings.map((w) => ({
      ...w,
      row: { ...w.row, coat: "damp" as const },
    }));
    const wet = { ...c, series: { ...c.series, weighings } };
    expect(lossReasons(wet)[0]).toMatchObject({ level: "danger", at: at - hour });
    // The newest that stands, not the first line of the book.
    expect(lossReasons(wet)[0]!.sentence.parameters["now"]).toBe(1700);
  });
});

describe("the newest of three masses", () => {
  it("is the one that must be young enough", () => {
    const rows = (last: number) =>
      [
        [at - 9 * day, 2000],
        [at - 5 * day, 2000],
        [at - last * day, 2000],
      ] as const;
    expect(lossIsJudged(caseOf({ weighings: rows(1) }))).toBe(true);
    expect(lossIsJudged(caseOf({ weighings: rows(3) }))).toBe(false);
  });
});

describe("a reading after the one that stands", () => {
  it("without a mass, or of nothing, is none; one in doubt that nothing explains away is none either", () => {
    const weighings = [...masses(2000, 2000, 1950), [at - hour / 2, 1990] as const];
    const c = caseOf({ ...exact, weighings });
    const last = (more: Partial<NetWeighing>) => {
      const edited = c.series.weighings.map((w) =>
        w.at === at - hour / 2 ? { ...w, ...more } : w,
      );
      const daily = [
        ...c.series.daily.slice(0, 2),
        { ...c.series.daily.at(-1)!, at: at - hour, massG: 1950 },
      ];
      return lossReasons({ ...c, series: { ...c.series, weighings: edited, daily } });
    };
    const wet = { row: { ...c.series.weighings.at(-1)!.row, coat: "wet" as const } };
    expect(last({ netG: null })).toEqual([]);
    expect(last({ netG: 0, ...wet })).toEqual([]);
    expect(last({ netG: -5 })).toEqual([]);
    expect(last({ netG: 1700, ...wet })[0]!.sentence.parameters).toMatchObject({
      now: 1700,
      doubted: false,
    });
  });
});

describe("a harbour seal after weaning", () => {
  /** Eats fish for 25 days, then next to none of it; weighed daily, 1.5 % less each day of the fast. */
  const seal = (more: CaseParts = {}) => ({
    ...exact,
    species: "harbour seal",
    animal: { birthDateEarliest: null, birthDateLatest: null, admittedAt: at - 31 * day },
    feeds: Array.from({ length: 31 * 6 }, (_, i) => ({
      at: at - 31 * day + i * 4 * hour,
      dietId: "clam",
      offeredG: 250,
      refusedG: i < 25 * 6 ? 10 : 230,
    })),
    weighings: Array.from({ length: 32 }, (_, i) => {
      const d = i - 31;
      return [
        at - hour + d * day,
        d < -6 ? 10_000 + 200 * (d + 31) : 15_000 * 0.985 ** (d + 6),
      ] as const;
    }),
    ...more,
  });

  it("is held against the course of its fast, so that what it must lose is no danger", () => {
    const floor = { ...exact.settings, floorG: { P1: 14_500 } };
    expect(of(seal({ settings: floor })).map((r) => r.sentence.code)).toEqual([
      "level-below-floor",
    ]);
    // An otter has no such fast: the same masses are a loss from its best level.
    const otter = of(seal({ settings: floor, species: "sea otter" }));
    expect(otter.map((r) => r.sentence.code)).toEqual(["level-loss"]);
  });
});
