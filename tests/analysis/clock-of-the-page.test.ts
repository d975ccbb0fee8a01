import { beforeAll, describe, expect, it } from "vitest";
import { askDay } from "../../src/analysis/ask-day.js";
import { parseStudy } from "../../src/records/parse-study.js";
import type { Study } from "../../src/records/study.js";
import { dayBoard } from "../../src/report/day/day-board.js";
import { dullStudy } from "../records/corpus/dull-study.js";

const hour = 3_600_000;

/** The same records, opened at different times: what the page may say of now. */
describe("the clock of the day's page", () => {
  let study: Study;
  let end: number;
  let onDay: string;
  beforeAll(async () => {
    const inputs = Object.entries(dullStudy()).map(([path, text]) => ({
      path,
      bytes: Buffer.from(text),
    }));
    study = parseStudy(inputs);
    const { analysis } = (await askDay(study, { curves: [] })).value;
    end = analysis.value.records.end!;
    onDay = analysis.value.onDay;
  });

  const openedAt = async (now?: number, on?: string) => {
    const answer = await askDay(study, {
      curves: [],
      ...(now === undefined ? {} : { now }),
      ...(on === undefined ? {} : { onDay: on }),
    });
    const { first, rows } = dayBoard(answer.value);
    return { first, levels: rows.map((r) => r.level), words: JSON.stringify({ first, rows }) };
  };

  it("within the hour is the page without a clock", async () => {
    const without = await openedAt();
    expect(await openedAt(end + hour)).toEqual(without);
    expect(without.first).toEqual([]);
    expect(without.levels).not.toContain("not judged");
  });

  it("a night without entries is said, and nobody is judged by it", async () => {
    const { levels, words } = await openedAt(end + 20 * hour);
    expect(new Set(levels)).toEqual(new Set(["not judged"]));
    expect(words).toMatch(/records end at .*nothing can be said of now/i);
  });

  it("long after, the first line says so and the rows tell how things stood then", async () => {
    const without = await openedAt();
    for (const later of [40 * hour, 400 * 24 * hour]) {
      const { first, levels, words } = await openedAt(end + later);
      expect(first).toHaveLength(1);
      expect(first[0]).toMatch(/^These records end at .*long before today/);
      expect(levels).toEqual(without.levels);
      expect(words).not.toMatch(/nothing can be said of now/);
    }
  });

  it("an earlier day that is asked for is told as it stood, without a word of the clock", async () => {
    const earlier = new Date(Date.parse(onDay) - 3 * 24 * hour).toISOString().slice(0, 10);
    const page = await openedAt(end + 400 * 24 * hour, earlier);
    expect(page.first).toEqual([]);
    expect(page.levels).toEqual((await openedAt(undefined, earlier)).levels);
  });
});
