import { describe, expect, it } from "vitest";
import { noticeText } from "../../src/core/catalogue.js";
import { replayFlags } from "../../src/flags/replay-flags.js";
import { daysJudged, judgementStandsD } from "../../src/flags/watch/judged-days.js";
import { addDays } from "../../src/units/calendar.js";
import { healthyStudy, inventedSeries, inventedStudy } from "./invented-study.js";

const healthy = healthyStudy(10, 45, 20310607);
/** Weighed daily for 25 days, then on these days alone. */
function animal(id: string, rate: number, later: readonly number[]) {
  const masses = Array.from({ length: 45 }, (_, i) =>
    i < 25 || later.includes(i)
      ? 1700 * Math.exp(0.011 * Math.min(i, 20) + rate * Math.max(0, i - 20))
      : null,
  );
  return inventedSeries({ id, birth: "2031-03-05", firstAge: 5, masses });
}
const day = (i: number) => addDays("2031-03-10", i);

describe("a day without a weighing", () => {
  const seldom = animal("seldom", 0.011, [28, 31, 40]);
  const stalls = animal("stalls", -0.004, [27, 30, 33, 36, 39]);
  const study = inventedStudy([...healthy.animals, seldom, stalls]);
  const { days } = replayFlags(study, { from: day(20), to: day(44) });
  const of = (i: number, id: string) =>
    days.find((d) => d.onDay === day(i))!.animals.find((a) => a.animalId === id)!;

  it("is judged by the last weighing for four days, says so, and not longer", () => {
    for (const i of [25, 29, 32, 34, 35, 41, 44]) {
      const found = of(i, "seldom");
      expect(found.status).toBe("not flagged");
      const last = [40, 31, 28, 24].find((j) => j <= i)!;
      expect(found.judgedOn).toBe(day(last));
      expect(noticeText(found.sentence)).toContain("was not weighed on this day");
    }
    for (const i of [36, 39]) {
      expect(of(i, "seldom").status).toBe("not judged");
      expect(of(i, "seldom").judgedOn).toBeNull();
    }
    expect(of(40, "seldom").judgedOn).toBe(day(40));
  });

  it("neither opens an episode nor closes one: those come with weighings alone", () => {
    let opened: number | null = null;
    for (let i = 21; i < 45; i++) {
      const { episode } = of(i, "stalls");
      if (opened === null && episode !== null) {
        opened = i;
        expect(of(i, "stalls").judgedOn).toBe(day(i));
      }
      if (opened !== null) expect(episode).not.toBeNull();
    }
    expect(opened).not.toBeNull();
  });
});

describe("an animal's first weighings", () => {
  // Arrives on the 21st day; weighed on these days of its stay, the arrival phase behind it.
  const weighed = [0, 8, 11, 14];
  const seen = (rate: number) => {
    const series = inventedSeries({
      id: "newcomer",
      birth: day(10),
      firstAge: 10,
      masses: Array.from({ length: 18 }, (_, d) =>
        weighed.includes(d)
          ? 1800 * Math.exp(0.011 * Math.min(d, 8) + rate * Math.max(0, d - 8))
          : null,
      ),
    });
    const joined = inventedStudy([...healthy.animals, series]);
    const { days } = replayFlags(joined, { from: day(28), to: day(34) });
    return days.map((d) => d.animals.find((a) => a.animalId === "newcomer")!);
  };

  it("are judged from the second one on, the first that has something to be held against", () => {
    const days = seen(0.011);
    expect(days.map((a) => a.judgedOn)).toEqual([
      ...[28, 29, 30].map(() => null),
      ...[31, 32, 33].map(() => day(31)),
      day(34),
    ]);
    expect(days.every((a) => a.episode === null)).toBe(true);
  });

  it("raise a flag at once where the second has fallen far", () => {
    const found = seen(-0.09);
    expect(found[2]!.episode).toBeNull();
    expect(found[3]!.episode).not.toBeNull();
    expect(found[3]!.raised.map((s) => s.class)).toContain("statistical");
  });
});

describe("the days that count as judged", () => {
  it("are those weighed and up to four after each, none twice, none after the record", () => {
    expect(judgementStandsD).toBe(4);
    expect(daysJudged([10, 11, 14, 30], 31)).toBe(1 + 3 + 5 + 2);
    expect(daysJudged([], 31)).toBe(0);
    // Counted the slow way.
    const days = [3, 4, 9, 10, 17, 25];
    let slow = 0;
    for (let d = 0; d <= 27; d++) if (days.some((w) => w <= d && d - w <= 4)) slow++;
    expect(daysJudged(days, 27)).toBe(slow);
  });
});
