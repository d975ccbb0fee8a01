import { describe, expect, it } from "vitest";
import { noticeText } from "../../src/core/catalogue.js";
import { seededRandom } from "../../src/core/random.js";
import { replayFlags, replayFlagsOn } from "../../src/flags/replay-flags.js";
import { shortTogether } from "../../src/flags/watch/short-together.js";
import type { StudySeries } from "../../src/series/animal-series.js";
import { addDays, daysBetween } from "../../src/units/calendar.js";
import { namedDays, watchTogether } from "../bench/worlds/groups-in-world.js";
import { heldOut } from "../bench/worlds/worlds.js";
import { day, smallStudySeries, start } from "../rates/small-study.js";

/** Five pups of different ages, weighed daily; all gain half, or a share, from the day on that is asked. */
function nursery(shortFromD: number, days = 44, seed = 15_607, share = 0.5): StudySeries {
  const random = seededRandom(seed);
  const ids = ["A", "B", "C", "D", "E"];
  return smallStudySeries({
    animals: ids.map((id, i) => ({
      animalId: id,
      name: id,
      birthDateEarliest: addDays("2025-04-20", 3 * i),
      birthDateLatest: addDays("2025-04-20", 3 * i),
      admittedAt: start + 2 * i * day,
      season: "2025",
    })),
    weighingRows: ids.flatMap((animalId, i) => {
      let y = Math.log(2000 + 60 * i);
      return Array.from({ length: days - 2 * i }, (_, k) => {
        const d = 2 * i + k;
        y += (d >= shortFromD ? share : 1) * (0.0125 + 0.0005 * i);
        return {
          animalId,
          at: start + (d + 0.25) * day,
          massG: Math.exp(y + 0.008 * random.normal()),
        };
      });
    }),
  });
}
const onDay = (study: StudySeries, d: number) => {
  const to = addDays("2025-05-01", d);
  return replayFlags(study, { from: to, to }).days[0]!;
};

describe("a season whose animals are all short together", () => {
  it("is named within two weeks, with the day it began and what is missing, and not before", () => {
    const study = nursery(30);
    expect(onDay(study, 29).together).toEqual([]);
    const [found] = onDay(study, 43).together;
    expect(found!.animals).toHaveLength(5);
    expect(Math.abs(daysBetween(found!.since, "2025-05-31"))).toBeLessThanOrEqual(4);
    const { lower, upper } = found!.missing.interval!;
    // Half of 1.25 to 1.45 % a day.
    expect(found!.missing.unit).toBe("%/d");
    expect(lower! < 0.675 && upper! > 0.675).toBe(true);
    expect(noticeText(found!.sentence)).toMatch(
      /^All together: the 5 animals of season 2025 \(sea otter\) gain .* less than was expected/,
    );
  });

  it("tells a loss as what it is, however far the expectation has followed it down", () => {
    // A gain of 1.35 % a day stops. Given as a share of the slope believed by now it was
    // several times all of it; as gain a day it is at most what they gained, and less where
    // what is believed of the species expects less of them.
    const [found] = onDay(nursery(30, 44, 15_611, 0), 43).together;
    expect(found!.missing.value).toBeGreaterThan(0.5);
    expect(found!.missing.interval!.upper!).toBeLessThan(1.45);
  });

  it("is not named where all go on as they were, nor where one alone is short", () => {
    const well = nursery(1000);
    expect([20, 30, 43].flatMap((d) => onDay(well, d).together)).toEqual([]);
    const short = nursery(30).animals[0]!;
    const one = { ...well, animals: [short, ...well.animals.slice(1)] };
    expect(onDay(one, 43).together).toEqual([]);
  });

  it("says on each day what it said then", () => {
    const study = nursery(30);
    const cut = {
      ...study,
      animals: study.animals.map((s) => ({
        ...s,
        daily: s.daily.filter((r) => r.at < start + 41 * day),
      })),
    };
    const cold = onDay(study, 40).together;
    expect(cold).toEqual(onDay(cut, 40).together);
    // Going on from the watch of an earlier day changes nothing.
    const to = (d: number) => ({ from: addDays("2025-05-01", d), to: addDays("2025-05-01", d) });
    const { history } = replayFlagsOn("begin", study, to(36));
    expect(replayFlagsOn(history, study, to(40)).replay.days[0]!.together).toEqual(cold);
    expect(cold).toHaveLength(1);
  });

  it("is found in a world of another make, and healthy seasons seldom are", () => {
    // Small sibling of the bench `short-together`. Seed 15608, written down before the first run.
    const hard = heldOut.find((w) => w.name === "hard")!;
    const design = { size: 8, before: "nothing" } as const;
    const seasons = [0, 1, 2, 3, 4, 5, 6, 7];
    const found = seasons.filter((i) => {
      const run = watchTogether(hard, design, [], 15_608_000 + i, { day: 32, share: 0.75 });
      return namedDays(run).sinceADay.some((d) => d >= 32 && d <= 46);
    });
    const healthy = seasons.map((i) => watchTogether(hard, design, [], 15_608_000 + i));
    const named = healthy.flatMap((run) => Object.values(namedDays(run)).flat());
    // 70 of 100 are asked for, 2 of 100 group-weeks; three standard errors of 8 seasons and 80 weeks.
    expect(found.length).toBeGreaterThanOrEqual(3);
    expect(named.length).toBeLessThanOrEqual(5);
  });

  it("is seen from its first day on by what earlier seasons of the house led to expect", () => {
    // Small sibling of the same bench. Seed 15910, written down before the first run: 57 of 100
    // were named in the world for calibrating, of healthy ones 13 in a whole season.
    const hard = heldOut.find((w) => w.name === "hard")!;
    const design = { size: 10, before: "two seasons" } as const;
    const seasons = [0, 1, 2, 3, 4, 5, 6, 7];
    const named = (seed: number, share: number) =>
      seasons.filter((i) => {
        const run = watchTogether(hard, design, [], seed + i, { day: 0, share }, 21);
        return namedDays(run).fromTheFirst.length > 0;
      }).length;
    expect(named(15_910_000, 0.75)).toBeGreaterThanOrEqual(2);
    expect(named(15_910_100, 1)).toBeLessThanOrEqual(3);
    // Where nothing is known beforehand there is nothing to hold a season against.
    const alone = watchTogether(
      hard,
      { size: 6, before: "nothing" },
      [],
      15_910_200,
      undefined,
      21,
    );
    expect(alone.fromTheFirst.every((e) => e === 0)).toBe(true);
  });

  it("says from when, against what, and that well seasons are named, too", () => {
    const state = { season: "2031", day: 20_000, animals: [0, 1], since: 19_990, evidence: 1 };
    const fromTheFirst = { since: 19_980, evidence: 7.2, missing: 0.003, se: 0.001 };
    const group = { ...state, missing: 0.001, se: 0.001, fromTheFirst };
    const found = shortTogether("sea otter", group, (i) => `P${i}`)!;
    expect(found.from).toBe("the first day on");
    expect(found.strength).toBe(2);
    expect(daysBetween(found.since, found.day)).toBe(20);
    expect(found.missing.value).toBeCloseTo(0.3, 12);
    expect(noticeText(found.sentence)).toMatch(/earlier seasons or other nurseries led to expect/);
    expect(noticeText(found.sentence)).toContain("of the seasons that are well some are named");
    const later = shortTogether("sea otter", { ...group, evidence: 13.2 }, String)!;
    expect(later.from).toBe("a day on");
    expect(later.strength).toBeCloseTo(3, 12);
    expect(shortTogether("sea otter", { ...group, fromTheFirst: null }, String)).toBeNull();
  });
});
