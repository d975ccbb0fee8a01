import { fileURLToPath } from "node:url";
import { beforeAll, expect, it } from "vitest";
import { analyse } from "../../src/analysis/analyse.js";
import { explainSlowGain } from "../../src/analysis/explain-slow-gain.js";
import type { StudyAnalysis } from "../../src/analysis/study-analysis.js";
import { noticeText } from "../../src/core/catalogue.js";
import { notice } from "../../src/core/notice.js";
import { plainWording } from "../../src/core/wording.js";
import type { LevelReason } from "../../src/flags/levels/level.js";
import { readStudy } from "../../src/records/files/read-study.js";
import type { Study } from "../../src/records/study.js";
import { plainReason } from "../../src/report/day/plain-reason.js";

const demo = fileURLToPath(new URL("../fixtures/demo-853cc0e", import.meta.url));

let study: Study;
let value: StudyAnalysis;
beforeAll(async () => {
  study = await readStudy(demo);
  value = (await analyse(study, { curves: [], onDay: "2024-04-20" })).value;
}, 120_000);

/** Two intervals of one gain stood on one page: in the picture 3 to 31, beside it 4 to 29. */
it("the newest gain is one number with one interval, in courses and tables alike", () => {
  const weighed = value.animals.filter((a) => a.gain.recent.gain.value !== null);
  expect(weighed.length).toBeGreaterThan(20);
  for (const { gain } of weighed) expect(gain.daily.at(-1)!.overWindow).toEqual(gain.recent);
});

/**
 * The board counted 17 g/d over seven days from a change on 26 March, the page 14 g/d from
 * 30 March, where no more than 21 days were looked back.
 */
it("a slowed gain is one sentence of one window, on the board, the page and in its picture", () => {
  const slow = value.animals.filter((a) => a.slow !== null);
  expect(slow.length).toBeGreaterThan(0);
  for (const animal of slow) {
    const { change, explanations, missing } = explainSlowGain(value, animal, study.tables.housing);
    const why = explanations.value;
    expect(animal.slow).toEqual(why);
    expect(change.value.since).toBe(why.from);
    expect(missing.value.from).toBe(why.from);
    expect(why.quantities.gain.value).toBeCloseTo(missing.value.own.gainG / missing.value.days, 9);
    const raised = animal.day!.raised.find((s) => s.kind === "slowed gain" || s.kind === "gain")!;
    const reason = { what: raised.kind, sentence: raised.sentence } as unknown as LevelReason;
    const board = plainReason(animal, reason, plainWording);
    expect(noticeText(why.headline).startsWith(board)).toBe(true);
    expect(board).toContain(`since ${why.from}`);
    // One more than the days of the window: both ends are weighed.
    const rows = animal.series.daily.filter((d) => d.feedingDay >= why.from);
    expect(rows.at(-1)!.feedingDay <= why.to).toBe(true);
    expect(why.quantities.gain.value).toBeCloseTo(
      slopeOf(rows.map((r) => [r.at / 86_400_000, r.massG])),
      6,
    );
  }
});

/** Least squares by the definition. */
function slopeOf(points: readonly (readonly number[])[]): number {
  const mean = (i: number) => points.reduce((sum, p) => sum + p[i]!, 0) / points.length;
  const [x, y] = [mean(0), mean(1)];
  const of = (f: (p: readonly number[]) => number) => points.reduce((sum, p) => sum + f(p), 0);
  return of((p) => (p[0]! - x) * (p[1]! - y)) / of((p) => (p[0]! - x) ** 2);
}

it("alternatives are joined by or", () => {
  const given = {
    animal: "A",
    from: "2031-05-02",
    days: null,
    gain: 5,
    expected: 9,
    ownExpected: null,
  };
  const said = (likely: string[], possible: string[]) =>
    noticeText(notice("explained-slow", "problem", { ...given, likely, possible }));
  expect(said([], ["thin batch", "kept less"])).toMatch(/possible: thin batch or kept less\.$/);
  expect(said(["scale", "swap", "kept less"], [])).toMatch(/: scale, swap or kept less\.$/);
});
