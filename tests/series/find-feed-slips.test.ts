import { describe, expect, it } from "vitest";
import type { SeriesFeed } from "../../src/series/animal-series.js";
import { type AnimalFeeds, findFeedSlips } from "../../src/series/find-feed-slips.js";

/** Feeds of invented pups, every three hours and all alike but for what each test changes. */
const minute = 60_000;
const hour = 60 * minute;
const start = Date.UTC(2025, 4, 1, 6);
interface Loose {
  readonly g?: number;
  readonly refusedG?: number | null;
  readonly at?: number;
  readonly dietId?: string | null;
  readonly kind?: string;
}
const feedOf = ({ g = 60, refusedG = 0, at = start, dietId = "milk", kind }: Loose) =>
  ({
    at,
    offeredG: g,
    eatenG: refusedG === null ? null : g - refusedG,
    dietId,
    composition: kind === undefined ? null : { kind },
    row: { refusedG, animalId: "P1", origin: { file: "feeds.csv", line: 2 } },
  }) as unknown as SeriesFeed;
/** So many feeds, the given ones otherwise. */
const fed = (n: number, changed: Readonly<Record<number, Loose>> = {}, all: Loose = {}) =>
  Array.from({ length: n }, (_, i): Loose => ({ at: start + 3 * i * hour, ...all, ...changed[i] }));
const animal = (
  feeds: readonly Loose[],
  more: { id?: string; massG?: number | null; orderedG?: readonly number[] } = {},
): AnimalFeeds => {
  const rows = [...feeds].map(feedOf).sort((a, b) => a.at - b.at);
  return {
    animalId: more.id ?? "P1",
    feeds: () => rows,
    massAt: () => more.massG ?? null,
    orderedG: () => more.orderedG ?? [],
  };
};
const slips = (...animals: readonly AnimalFeeds[]) => {
  const found = findFeedSlips(animals);
  return animals.flatMap((a) =>
    [...found.get(a.animalId)!].map(([place, slip]) => ({ place, ...slip })),
  );
};
/** Places and kinds of the doubted feeds of one animal. */
const told = (...a: Parameters<typeof animal>) =>
  slips(animal(...a)).map((s) => [s.place, s.kind] as const);
const places = (...a: Parameters<typeof animal>) => told(...a).map(([place]) => place);

describe("a feed against those around it", () => {
  it("is doubted beyond 1.8 times or below a 1.8th of the usual one", () => {
    const one = (g: number) => places(fed(9, { 4: { g } }));
    expect([one(107), one(109), one(33.4), one(33.2)]).toEqual([[], [4], [], [4]]);
    expect(slips(animal(fed(9, { 4: { g: 33 } })))).toMatchObject([
      {
        kind: "unexplained",
        suggestedG: null,
        usualG: expect.closeTo(60, 9),
        massPct: null,
        eatenLowG: 33,
        otherAnimalId: null,
        why: {
          code: "series-suspected-feed",
          parameters: { at: start + 12 * hour, offeredG: 33 },
        },
      },
    ]);
    expect(slips(animal(fed(9, { 4: { g: 33 } })))[0]!.eatenHighG).toBeCloseTo(60, 9);
  });

  it("is doubted beyond six of the animal's own spreads, where those are wide", () => {
    // By turns e^0.15 more and less than 60 g: the spread is 1.4826 x 0.15, six of it 3.8 times.
    const wide = (g: number) =>
      places(
        fed(13).map((f, i) => ({ ...f, g: i === 6 ? g : 60 * Math.exp(i % 2 ? 0.15 : -0.15) })),
      );
    const limit = 60 * Math.exp(6 * 1.4826 * 0.15);
    expect([wide(0.99 * limit), wide(1.01 * limit)]).toEqual([[], [6]]);
  });

  it("like another near it is usual, but beyond three times only like two others", () => {
    const pair = (a: number, b: number) => places(fed(12, { 3: { g: a }, 8: { g: b } }));
    expect([pair(120, 120), pair(120, 143)]).toEqual([[], []]);
    expect(pair(120, 145)).toEqual([3, 8]);
    expect([pair(179, 179), pair(181, 181)]).toEqual([[], [3, 8]]);
    expect(places(fed(16, { 3: { g: 200 }, 8: { g: 200 }, 13: { g: 200 } }))).toEqual([]);
  });

  it("like those beside it is usual, whatever the others are", () => {
    const g = 200;
    const three = (...at: readonly number[]) =>
      places(fed(20, Object.fromEntries(at.map((i) => [i, { g }]))));
    expect([three(0, 1, 2), three(17, 18, 19), three(8, 9, 10)]).toEqual([[], [], []]);
    // Two in a row at either end are far off, and only one is like each.
    expect([three(0, 1), three(18, 19), three(8, 9)]).toEqual([
      [0, 1],
      [18, 19],
      [8, 9],
    ]);
  });

  it("is of its own diet; a supplement and nothing offered are not looked at", () => {
    const mixed = fed(9, { 4: { g: 5, dietId: "clam" } });
    expect(places(mixed)).toEqual([]);
    expect(places(fed(9, { 4: { g: 5 } }))).toEqual([4]);
    expect(places(fed(9, { 4: { g: 0 } }))).toEqual([]);
    expect(places(fed(9, { 4: { g: 5 } }, { kind: "supplement" }))).toEqual([]);
    // Its place is that among all feeds.
    const clams = fed(9, { 4: { g: 9 } }, { g: 1, dietId: "clam" }).map((f) => ({
      ...f,
      at: f.at! + hour,
    }));
    expect(places([...fed(9), ...clams])).toEqual([9]);
    // Feeds of no named diet are held against each other.
    expect(places(fed(9, { 4: { g: 600 } }, { dietId: null }))).toEqual([4]);
  });
});

describe("a feed against body mass", () => {
  const of = (g: number, massG: number) => places(fed(6, {}, { g }), { massG });
  it("is asked about beyond 15 % of it, or below a 2000th, however usual", () => {
    expect([of(150, 1000), of(151, 1000), of(0.5, 1000), of(0.49, 1000)]).toEqual([
      [],
      [0, 1, 2, 3, 4, 5],
      [],
      [0, 1, 2, 3, 4, 5],
    ]);
    expect(places(fed(6, {}, { g: 151 }), { massG: 1000, orderedG: [151] })).toHaveLength(6);
  });

  it("that is usual, or the only one, has no usual feed that it is far from", () => {
    const [usual] = slips(animal(fed(6, {}, { g: 200 }), { massG: 1000 }));
    expect(usual).toMatchObject({
      kind: "unexplained",
      usualG: null,
      massPct: 20,
      eatenLowG: 0,
      eatenHighG: 200,
    });
    const [only] = slips(animal([{ g: 200 }], { massG: 1000 }));
    expect(only).toMatchObject({ kind: "unexplained", usualG: null, massPct: 20 });
  });

  it("that cannot be true was not eaten: more than 30 %, or less than a 2000th", () => {
    const bounds = (g: number, massG: number) => {
      const [slip] = slips(animal([{ g }], { massG }));
      return [slip!.eatenLowG, slip!.eatenHighG];
    };
    expect([bounds(300, 1000), bounds(301, 1000), bounds(0.4, 1000)]).toEqual([
      [0, 300],
      [0, 0],
      [0, 0],
    ]);
  });
});

describe("a feed against the order", () => {
  const of = (g: number, orderedG: readonly number[]) => places(fed(9, { 4: { g } }), { orderedG });
  it("is not doubted within a fifth of what is ordered, by any line", () => {
    expect([of(130, [130]), of(130, [155]), of(130, [109]), of(130, [20, 130])]).toEqual([
      [],
      [],
      [],
      [],
    ]);
    expect([of(130, [157]), of(130, [107])]).toEqual([[4], [4]]);
  });

  it("is doubted beyond three times of it, where fewer than three feeds say what is usual", () => {
    const few = (g: number, orderedG: readonly number[]) =>
      told([{ g }, { g: 60, at: start + 3 * hour }], { orderedG });
    expect([few(179, [60]), few(181, [60]), few(600, [])]).toEqual([
      [],
      [[0, "bottle not taken off"]],
      [],
    ]);
    // Three alike are what is usual now, whatever is ordered; two are not yet.
    const alike = (n: number, g = 200) =>
      places(fed(n, { 1: { g } }, { g: 200 }), { orderedG: [60] });
    expect([alike(2), alike(3), alike(3, 239), alike(3, 241)]).toEqual([[0, 1], [], [], [0, 1, 2]]);
    // The order nearest to what is written counts.
    expect(few(181, [60, 500])).toEqual([]);
    expect(few(600, [60])).toEqual([[0, "digit added"]]);
  });
});

describe("a feed that one slip explains", () => {
  it("is named by it, with what was meant and the bounds of both", () => {
    const [slip] = slips(animal(fed(9, { 4: { g: 600, refusedG: 20 } }), { massG: 5000 }));
    expect(slip).toMatchObject({
      kind: "digit added",
      suggestedG: 60,
      massPct: 12,
      eatenLowG: 40,
      eatenHighG: 580,
    });
    // Written in kilograms, both offer and refusal were.
    const [kilograms] = slips(animal(fed(9, { 4: { g: 0.06, refusedG: 0.01 } })));
    expect(kilograms).toMatchObject({ kind: "kilograms for grams", suggestedG: 60 });
    expect(kilograms!.eatenLowG).toBeCloseTo(0.05, 9);
    expect(kilograms!.eatenHighG).toBeCloseTo(50, 9);
    // An unknown refusal: between nothing and all of either.
    const [unknown] = slips(animal(fed(9, { 4: { g: 600, refusedG: null } })));
    expect([unknown!.eatenLowG, unknown!.eatenHighG]).toEqual([0, 600]);
    // More refused than was meant to be offered: none was eaten then.
    const [more] = slips(animal(fed(9, { 4: { g: 600, refusedG: 90 } })));
    expect([more!.eatenLowG, more!.eatenHighG]).toEqual([0, 510]);
  });

  it("may be a whole day's, as many feeds as it has in a day around it", () => {
    const total = (g: number, everyH: number, n = 30) =>
      told(fed(n, { 15: { g } }).map((f, i) => ({ ...f, at: start + i * everyH * hour })))[0]?.[1];
    expect(total(480, 3)).toBe("day's total");
    expect(total(360, 4)).toBe("day's total");
    expect(total(360, 3)).not.toBe("day's total");
    // Half a day of feeds tells how many there are in one, less does not.
    const few = (everyH: number, k: number) =>
      told(
        fed(5, { [k]: { g: 1440 / everyH } }).map((f, i) => ({
          ...f,
          at: start + i * everyH * hour,
        })),
      )[0]?.[1];
    expect([few(3, 2), few(3, 0), few(3, 4)]).toEqual(new Array(3).fill("day's total"));
    expect(few(2.9, 2)).not.toBe("day's total");
  });
});

describe("a feed written twice", () => {
  const again = (minutes: number, more: Loose = {}) =>
    told([...fed(9), { at: start + 12 * hour + minutes * minute, ...more }]);

  it("is the second of two alike within 20 minutes", () => {
    expect([again(20), again(21)]).toEqual([[[5, "entered twice"]], []]);
    expect([again(6, { g: 59 }), again(6, { refusedG: 1 }), again(6, { refusedG: null })]).toEqual([
      [],
      [],
      [],
    ]);
    const [slip] = slips(
      animal([...fed(9, {}, { refusedG: 10 }), { at: start + 6 * minute, refusedG: 10 }], {
        massG: 600,
      }),
    );
    expect(slip).toMatchObject({ place: 1, usualG: 60, massPct: 10, eatenLowG: 0, eatenHighG: 50 });
    expect(slip!.suggestedG).toBeNull();
  });

  it("is none where the diet is given in parts: more than twice, and more than one in twenty", () => {
    const twice = (n: number, times: number) =>
      told([...fed(n), ...fed(times).map((f) => ({ ...f, at: f.at! + 5 * minute }))]).length;
    expect([twice(20, 2), twice(20, 3), twice(56, 3), twice(96, 4), twice(94, 5)]).toEqual([
      2, 0, 0, 4, 0,
    ]);
  });
});

describe("a feed of another animal", () => {
  /** Fed 90 g in the same rounds, but for those that are left out. */
  const other = (without: readonly number[], more: { g?: number; id?: string } = {}) =>
    animal(
      fed(9, {}, { g: more.g ?? 90 }).filter((_, i) => !without.includes(i)),
      { id: more.id ?? "P2" },
    );
  const found = (own: readonly Loose[], ...others: readonly AnimalFeeds[]) =>
    slips(animal(own), ...others).map((s) => [s.place, s.kind, s.otherAnimalId]);
  const extra = (minutes: number, g: number) => ({ at: start + 12 * hour + minutes * minute, g });

  it("stands within 20 minutes of the own one, and is more like the other's, who has none", () => {
    const beside = (minutes: number, g = 90, without = [4]) =>
      found([...fed(9), extra(minutes, g)], other(without));
    expect(beside(20)).toEqual([[5, "wrong animal", "P2"]]);
    expect(beside(-20)).toEqual([[4, "wrong animal", "P2"]]);
    expect([beside(21), beside(-21)]).toEqual([[], []]);
    // The other was fed; it is more like the own feeds; it is like neither.
    expect(beside(10, 90, [])).toEqual([]);
    expect(beside(10, 73)).toEqual([]);
    expect(beside(10, 99)).toEqual([]);
    // Near what is usual for either, it is the one that is nearer.
    const near = (g: number) => found([...fed(9), extra(10, g)], other([4], { g: 66 })).length;
    expect([near(62), near(64)]).toEqual([0, 1]);
    // Of which nothing may have been eaten by this animal.
    const [slip] = slips(animal([...fed(9), extra(10, 90)], { massG: 900 }), other([4]));
    expect(slip).toMatchObject({
      usualG: 90,
      massPct: 10,
      suggestedG: null,
      eatenLowG: 0,
      eatenHighG: 90,
    });
  });

  it("is none where this animal is given the diet in parts, or too few feeds tell", () => {
    const parts = [0, 1, 2].map((i) => ({ at: start + 3 * i * hour + 5 * minute, g: 20 }));
    expect(found([...fed(9), ...parts, extra(10, 90)], other([4]))).toEqual([]);
    expect(found([{ at: start + 12 * hour }, extra(10, 90)], other([4]))).toEqual([]);
    expect(found([...fed(9), extra(10, 90)], animal([{ g: 90 }], { id: "P2" }))).toEqual([]);
  });

  it("is a feed far off that is usual for one that has none in that round", () => {
    const far = (g: number, without = [4], usual = 200) =>
      found(fed(9, { 4: { g } }), other(without, { g: usual }));
    expect(far(200)).toEqual([[4, "wrong animal", "P2"]]);
    // Within a tenth of what is usual for the other.
    expect([far(217)[0]![1], far(221)[0]![1]]).toEqual(["wrong animal", "bottle not taken off"]);
    expect(far(200, [])).toEqual([[4, "bottle not taken off", null]]);
    // At the end of its feeds nobody knows whether it would have had one.
    expect(far(200, [4, 5, 6, 7, 8])).toEqual([[4, "bottle not taken off", null]]);
    expect(far(200, [0, 1, 2, 3, 4])).toEqual([[4, "bottle not taken off", null]]);
    const [slip] = slips(animal(fed(9, { 4: { g: 200 } })), other([4], { g: 200 }));
    expect(slip).toMatchObject({ eatenLowG: 0, eatenHighG: 200 });
    expect(slip!.usualG).toBeCloseTo(60, 9);
    // Of another diet it misses nothing.
    const clams = animal(
      fed(9, {}, { g: 200, dietId: "clam" }).filter((_, i) => i !== 4),
      { id: "P2" },
    );
    expect(found(fed(9, { 4: { g: 200 } }), clams)).toEqual([[4, "bottle not taken off", null]]);
  });

  it("may be looked for within 45 minutes, and among all others", () => {
    const late = (minutes: number) =>
      found(
        fed(9, { 4: { g: 200 } }),
        animal(fed(9, { 4: { at: start + 12 * hour + minutes * minute } }, { g: 200 }), {
          id: "P2",
        }),
      )[0]![1];
    expect([late(45), late(46), late(-45), late(-46)]).toEqual([
      "bottle not taken off",
      "wrong animal",
      "bottle not taken off",
      "wrong animal",
    ]);
    const own = fed(9, { 4: { g: 200 } });
    expect(found(own, other([], { g: 200 }), other([4], { g: 200, id: "P3" }))).toEqual([
      [4, "wrong animal", "P3"],
    ]);
    expect(found(own, other([4], { g: 90 }), other([4], { g: 200, id: "P3" }))).toEqual([
      [4, "wrong animal", "P3"],
    ]);
  });

  it("is exchanged with one that is as strange for the other", () => {
    const exchanged = found(
      fed(9, { 4: { g: 200 } }),
      animal(fed(9, { 4: { g: 60 } }, { g: 200 }), { id: "P2" }),
    );
    expect(exchanged).toEqual([
      [4, "wrong animal", "P2"],
      [4, "wrong animal", "P1"],
    ]);
  });
});

describe("more refused than offered", () => {
  const of = (changed: Loose, more: Parameters<typeof animal>[1] = {}, n = 9) =>
    slips(animal(fed(n, { 4: changed }), more));

  it("is exchanged where the refusal is the usual feed, and cannot be read where not", () => {
    const [exchanged] = of({ g: 5, refusedG: 60 }, { massG: 500 });
    expect(exchanged).toMatchObject({
      place: 4,
      kind: "offered and refused exchanged",
      suggestedG: 60,
      massPct: 1,
      eatenHighG: 55,
    });
    expect(exchanged!.usualG).toBeCloseTo(60, 9);
    expect(of({ g: 60, refusedG: 90 })).toMatchObject([
      { kind: "refusal beyond the offer", suggestedG: null, massPct: null },
    ]);
    // As much refused as offered was refused whole; the other feeds are judged as ever.
    expect(of({ g: 60, refusedG: 60 })).toEqual([]);
    const two = slips(
      animal(fed(9, { 2: { g: 5, refusedG: 60 }, 6: { g: 5, refusedG: 60 }, 4: { g: 600 } })),
    );
    expect(two.map((s) => [s.place, s.kind])).toEqual([
      [4, "digit added"],
      [2, "offered and refused exchanged"],
      [6, "offered and refused exchanged"],
    ]);
  });

  it("is held against the feeds around it of its own diet, else against the order", () => {
    // 60 g before, 300 g after: at the change the middle is between, at the ends it is not.
    const grown = (k: number) =>
      slips(
        animal(
          fed(60).map((f, i) => ({
            ...f,
            g: i < 30 ? 60 : 300,
            ...(i === k ? { g: 20, refusedG: 55 } : {}),
          })),
        ),
      ).map((s) => s.kind);
    expect([grown(10), grown(50)]).toEqual([
      ["offered and refused exchanged"],
      ["refusal beyond the offer"],
    ]);
    const alone = (orderedG: readonly number[]) =>
      slips(animal([{ g: 20, refusedG: 55 }], { orderedG }))[0]!;
    expect(alone([60]).kind).toBe("offered and refused exchanged");
    expect(alone([60]).usualG).toBeCloseTo(60, 9);
    expect(alone([20]).kind).toBe("refusal beyond the offer");
    expect(alone([])).toMatchObject({ kind: "offered and refused exchanged", usualG: null });
    const clams = fed(9, { 4: { dietId: "clam", g: 20, refusedG: 55 } });
    expect(slips(animal(clams, { orderedG: [20] }))[0]).toMatchObject({
      place: 4,
      usualG: expect.closeTo(20, 9),
    });
    // Another animal's feeds are not its own.
    const others = animal(fed(9), { id: "P2" });
    const both = slips(others, animal([{ g: 20, refusedG: 55 }], { orderedG: [20] }));
    expect(both).toMatchObject([
      { place: 0, usualG: expect.closeTo(20, 9), kind: "refusal beyond the offer" },
    ]);
  });
});
