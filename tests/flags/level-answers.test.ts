import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { animalLevels } from "../../src/flags/levels/animal-levels.js";
import { type AnimalLevel, levelOrder } from "../../src/flags/levels/level.js";
import type { AnswerRow } from "../../src/series/animal-series.js";
import { day, hour, type SmallStudy, smallStudySeries, start } from "../rates/small-study.js";

/** Laws of levels and answers, over signs, masses and times that are drawn. */
const at = start + 9 * day;
type Seen = { readonly at: number; readonly kind: string; readonly valueText: string };
const lines: readonly (readonly [string, string])[] = [
  ["temperature", "37.8"],
  ["temperature", "38.9"],
  ["temperature", "36.8 C"],
  ["temperature", "see sheet"],
  ["glucose", "34"],
  ["glucose", "52 mg/dL"],
  ["vomit", "once"],
  ["vomit", "2x"],
  ["bloat", "tight"],
  ["stool", "watery"],
  ["stool", "bloody"],
  ["stool", "soft"],
  ["behaviour", "lethargic"],
  ["behaviour", "not suckling"],
  ["behaviour", "bright"],
  ["regurgitation", "3x"],
];
const seenLine = fc
  .tuple(fc.integer({ min: 0, max: lines.length - 1 }), fc.integer({ min: 0, max: 30 }))
  .map(
    ([i, back]): Seen => ({
      at: at - back * hour - 60_000,
      kind: lines[i]![0],
      valueText: lines[i]![1],
    }),
  );
const drawn = fc.record({
  seen: fc.array(seenLine, { maxLength: 6 }),
  lastG: fc.integer({ min: 1750, max: 2250 }),
  feedsUntilH: fc.integer({ min: 0, max: 14 }),
});
type Drawn = typeof drawn extends fc.Arbitrary<infer T> ? T : never;

const parts = (d: Drawn): SmallStudy => ({
  weighings: [
    ...Array.from({ length: 8 }, (_, i) => [start + i * day + 2 * hour, 2000 + 20 * i] as const),
    [at - 22 * hour, d.lastG],
  ],
  feeds: Array.from({ length: 72 }, (_, i) => start + 3 * hour * i)
    .filter((t) => t <= at - d.feedsUntilH * hour)
    .map((t) => ({ at: t, dietId: "formula", offeredG: 50, refusedG: 0 })),
  plans: [{ from: start, gPerFeed: 50, feedsPerDay: 8 }],
  observations: [...d.seen].sort((a, b) => a.at - b.at),
});
const answer = (reason: string, from: number, until: number, by = "Tor"): AnswerRow => ({
  animalId: "P1",
  reason,
  at: from,
  by,
  until,
  note: null,
  origin: { file: "answers.csv", line: 2 },
});
const level = (d: Drawn, answers: readonly AnswerRow[] = [], when = at): AnimalLevel =>
  animalLevels({ ...smallStudySeries(parts(d)), answers }, { at: when })[0]!;
const rank = (l: AnimalLevel) => levelOrder.indexOf(l.level);
const bare = (l: AnimalLevel) => l.reasons.map(({ answered: _, ...r }) => JSON.stringify(r)).sort();

describe("an answer", () => {
  it("changes no other line, hides none, opens no suggestion and never leaves nothing of a danger", () => {
    fc.assert(
      fc.property(drawn, fc.nat(5), (d, which) => {
        const before = level(d);
        const reason = before.reasons[which % Math.max(1, before.reasons.length)];
        // Nobody can answer for records that end.
        if (reason === undefined || reason.what === "records end") return;
        const after = level(d, [answer(reason.what, at, at + 12 * hour)]);
        // Of a reason that was answered this very minute all stands as it stood, but for the answer.
        expect(bare(after)).toEqual(bare(before));
        for (const r of after.reasons)
          expect([r.what, r.answered !== null]).toEqual([r.what, r.what === reason.what]);
        expect(rank(after)).toBeGreaterThanOrEqual(rank(before));
        const waits = (l: AnimalLevel) => l.reasons.filter((r) => r.suggestionsWait).length;
        expect(waits(after)).toBe(waits(before));
        if (before.level === "danger") expect(rank(after)).toBeLessThanOrEqual(1);
      }),
      { numRuns: 150, seed: 14_001 },
    );
  });

  it("of one animal says nothing about another", () => {
    const study = smallStudySeries(parts({ seen: [], lastG: 1800, feedsUntilH: 0 }));
    const other = { ...answer("loss", at, at + hour), animalId: "P2" };
    expect(animalLevels({ ...study, answers: [other] }, { at })[0]!.level).toBe("danger");
  });
});

describe("a level", () => {
  const hot = (valueText: string, back: number) => ({
    at: at - back * hour,
    kind: "temperature",
    valueText,
  });
  const d = (seen: readonly Seen[], lastG = 2140): Drawn => ({
    seen: [...seen],
    lastG,
    feedsUntilH: 0,
  });

  it("comes back when the answered value moves further out: 0.3 °C, 1 % of mass, one more line", () => {
    const told = answer("hot", at - 3 * hour, at + 12 * hour);
    expect(level(d([hot("38.9", 4)]), [told]).level).toBe("second look");
    expect(level(d([hot("38.9", 4), hot("39.1", 1)]), [told]).level).toBe("second look");
    expect(level(d([hot("38.9", 4), hot("39.2", 1)]), [told]).level).toBe("danger");
    // Cold after hot is another danger, and nobody has answered it.
    expect(level(d([hot("38.9", 4), hot("36.5", 1)]), [told]).level).toBe("danger");
    const vomits = answer("repeated vomit", at - 3 * hour, at + 12 * hour);
    const twice = { at: at - 4 * hour, kind: "vomit", valueText: "2x" };
    expect(level(d([twice, hot("37.8", 2)]), [vomits]).level).toBe("second look");
    const again = { at: at - hour, kind: "vomit", valueText: "again" };
    expect(level(d([twice, hot("37.8", 2), again]), [vomits]).level).toBe("danger");
    const loss = answer("loss", at - 21 * hour, at + 2 * hour);
    expect(level(d([hot("37.8", 2)], 1880), [loss]).level).toBe("second look");
  });

  it("comes back at the end of the answer, after 24 h at the latest, and at another reason as high", () => {
    const seen = [hot("38.9", 4)];
    const short = answer("hot", at - 3 * hour, at - hour);
    expect(level(d(seen), [short]).level).toBe("danger");
    const early = answer("hot", at - 25 * hour, at + 6 * day);
    const since = [hot("38.9", 26), hot("38.9", 4)];
    expect(level(d(since), [early]).level).toBe("danger");
    const bloat = { at: at - hour, kind: "bloat", valueText: "tight" };
    const told = answer("hot", at - 3 * hour, at + 12 * hour);
    const both = level(d([...seen, bloat]), [told]);
    expect(both.level).toBe("danger");
    expect(both.reasons.find((r) => r.what === "hot")?.answered).toBeNull();
    // An end before its beginning answers nothing.
    expect(level(d(seen), [answer("hot", at - hour, at - 2 * hour)]).level).toBe("danger");
  });

  it("is never lowered by a doubt", () => {
    const doubts: readonly (readonly [string, string])[] = [
      ["temperature", "?"],
      ["temperature", "37.8 / 39.4"],
      ["temperature", "98.2"],
      ["glucose", "30 ?"],
      ["vomit", "maybe"],
      ["stool", "???"],
      ["behaviour", "see note"],
    ];
    fc.assert(
      fc.property(drawn, fc.nat(doubts.length - 1), fc.nat(20), (x, i, back) => {
        const [kind, valueText] = doubts[i]!;
        const added = { at: at - back * hour - 30_000, kind, valueText };
        expect(rank(level({ ...x, seen: [...x.seen, added] }))).toBeLessThanOrEqual(rank(level(x)));
      }),
      { numRuns: 150, seed: 14_002 },
    );
  });

  it("is plain data, and reads nothing later than its instant", () => {
    fc.assert(
      fc.property(drawn, fc.nat(20), (x, back) => {
        const when = at - back * hour;
        const now = level(x, [], when);
        expect(JSON.parse(JSON.stringify(now))).toEqual(now);
        const later = { at: when + hour, kind: "bloat", valueText: "tight" };
        expect(level({ ...x, seen: [...x.seen, later] }, [], when)).toEqual(now);
      }),
      { numRuns: 60, seed: 14_003 },
    );
  });
});
