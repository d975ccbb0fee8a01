import { describe, expect, it } from "vitest";
import { type Random, seededRandom } from "../../src/core/random.js";
import { replayFlagsOn } from "../../src/flags/replay-flags.js";
import type { ReplayHistory } from "../../src/flags/replay-history.js";
import type { AnimalSeries, StudySeries } from "../../src/series/animal-series.js";
import { addDays, daysBetween, localNoon } from "../../src/units/calendar.js";
import { everyThreeHours, observed } from "./invented-feeds.js";
import { healthyStudy, inventedStudy, signsFrom } from "./invented-study.js";

/**
 * No outside source: a cold replay is the measure. Four invented animals with what the rules
 * read: feeds (one appetite fails, one refusal is left blank), signs, and one that leaves
 * before the end. Seeds 73 and 74.
 */
const plain = healthyStudy(4, 14, 73);
const feedingDays = plain.animals.flatMap((a) => a.daily.map((d) => d.feedingDay)).sort();
const first = feedingDays[0]!;
const days = daysBetween(first, feedingDays.at(-1)!) + 1;
const leaver = 3;
const study = inventedStudy(
  plain.animals.map((a, i) => {
    const id = a.animal.animalId;
    const fed = everyThreeHours(a, (day, k) => {
      const fails = i === 1 && day >= addDays(first, 7) && k > 3;
      return { offeredG: 60, refusedG: fails ? 60 : i === 2 && k === 5 ? null : 2 };
    });
    const seen = [4, 8, 11].map((d) =>
      observed(
        id,
        localNoon(addDays(first, d), "UTC"),
        "temperature",
        i === 2 ? "40.9" : "37.4",
        "degC",
      ),
    );
    return { ...fed, signs: signsFrom(seen) };
  }),
);
const leaves = addDays(first, days - 4);

/** The study as it stood at the end of a day. */
function upTo(whole: StudySeries, day: string): StudySeries {
  const before = <Row extends { readonly at: number }>(rows: readonly Row[]) =>
    rows.filter((r) => r.at < localNoon(day, "UTC") + 12 * 3_600_000);
  return inventedStudy(
    whole.animals.map((a, i): AnimalSeries => {
      const gone = i === leaver && day >= leaves;
      const present = (rows: AnimalSeries["daily"]) =>
        before(rows).filter((r) => i !== leaver || r.feedingDay <= leaves);
      return {
        ...a,
        animal: gone ? { ...a.animal, outcome: "released", outcomeDate: leaves } : a.animal,
        daily: present(a.daily),
        weighings: before(a.weighings).filter((w) => i !== leaver || w.feedingDay <= leaves),
        feeds: before(a.feeds).filter((f) => i !== leaver || f.feedingDay <= leaves),
        signs: before(a.signs),
      };
    }),
  );
}

const text = (value: unknown) => JSON.stringify(value);
const on = (whole: StudySeries, day: string) => [upTo(whole, day), { from: day, to: day }] as const;
const coldOn = (whole: StudySeries, day: string) =>
  text(replayFlagsOn(null, ...on(whole, day)).replay);

function randomDays(count: number, random: Random): string[] {
  const all = Array.from({ length: days }, (_, d) => addDays(first, d));
  return Array.from({ length: count }, () => all.splice(random.below(all.length), 1)[0]!);
}

/** The history of every day up to the last one. */
const wholeHistory = () => replayFlagsOn("begin", ...on(study, addDays(first, days - 1))).history!;

describe("a replay of flags on a warm history", () => {
  it("lists in 100 random orders of days what cold replays list, bit for bit", () => {
    const cold = new Map<string, string>();
    const random = seededRandom(74);
    for (let order = 0; order < 100; order++) {
      let history: ReplayHistory | "begin" = "begin";
      for (const day of randomDays(2, random.split(order))) {
        const warm = replayFlagsOn(history, ...on(study, day));
        if (!cold.has(day)) cold.set(day, coldOn(study, day));
        expect(text(warm.replay) === cold.get(day), `order ${order}, ${day}`).toBe(true);
        history = warm.history!;
      }
    }
    const raised = [...cold.values()].filter((list) => list.includes('"openedBy":"rule"'));
    expect(raised.length).toBeGreaterThan(3);
    expect(coldOn(study, leaves)).not.toContain("endedWithRecord");
  });

  it("takes over what the days before have added: they are not gone through again", () => {
    const day = addDays(first, days - 2);
    const before = replayFlagsOn("begin", ...on(study, day)).history!;
    const after = replayFlagsOn(before, ...on(study, addDays(day, 1))).history!;
    expect(before.replayed!.days.length).toBe(days - 1);
    // The newest day may be told only in part: it is gone through again with the next one.
    for (let d = 0; d < days - 2; d++)
      expect(after.replayed!.days[d]).toBe(before.replayed!.days[d]);
    const earlier = replayFlagsOn(after, ...on(study, addDays(first, 8))).history!;
    expect(earlier.replayed!.days[7]).toBe(after.replayed!.days[7]);
  });

  it("does not move when the future does", () => {
    const history = wholeHistory();
    for (const cut of [5, 9, days - 3]) {
      const day = addDays(first, cut);
      const changed = inventedStudy(
        study.animals.map((a) => ({
          ...a,
          daily: a.daily.map((d) => (d.feedingDay > day ? { ...d, massG: d.massG / 2 } : d)),
          feeds: a.feeds.filter((f) => f.feedingDay <= day),
        })),
      );
      expect(text(replayFlagsOn(history, ...on(changed, day)).replay)).toBe(coldOn(study, day));
      const last = addDays(first, days - 1);
      expect(text(replayFlagsOn(history, ...on(changed, last)).replay)).toBe(coldOn(changed, last));
    }
  });

  it("goes on from no day that a changed record contradicts", () => {
    const history = wholeHistory();
    const last = addDays(first, days - 1);
    const of = (i: number, change: (a: AnimalSeries) => AnimalSeries) =>
      inventedStudy(study.animals.map((a, k) => (k === i ? change(a) : a)));
    const all: Record<string, StudySeries> = {
      "feeds of a morning that were not written": of(0, (a) => ({
        ...a,
        feeds: a.feeds.filter((f) => f.feedingDay !== addDays(first, 8)),
      })),
      "a feed refused after all": of(2, (a) => ({
        ...a,
        feeds: a.feeds.map((f, k) =>
          k === 40 ? { ...f, eatenLowG: 0, eatenHighG: 0, eatenG: 0 } : f,
        ),
      })),
      "a fever more": of(1, (a) => ({
        ...a,
        signs: signsFrom([
          observed(
            a.animal.animalId,
            localNoon(addDays(first, 5), "UTC"),
            "temperature",
            "41",
            "degC",
          ),
        ]),
      })),
      "an earlier birth": of(0, (a) => ({
        ...a,
        age: { ...a.age, birth: a.age.birth! - 86_400_000 },
      })),
      "another species": of(3, (a) => ({ ...a, animal: { ...a.animal, species: "grey seal" } })),
      "one animal fewer": inventedStudy(study.animals.filter((_, k) => k !== 2)),
      "the order of animals": inventedStudy(study.animals.slice().reverse()),
      "other settings": { ...study, settings: { ...study.settings, massBands: {} } },
    };
    for (const [what, changed] of Object.entries(all))
      expect(
        text(replayFlagsOn(history, ...on(changed, last)).replay) === coldOn(changed, last),
        what,
      ).toBe(true);
    // Another budget, limits and answers come to other episodes.
    const asked = {
      ...on(study, last)[1],
      falseFlagsPer100AnimalWeeks: 5,
      rules: { noGainDays: null },
      acknowledgements: [
        {
          animalId: study.animals[1]!.animal.animalId,
          on: addDays(first, 12),
          by: null,
          note: "seen",
        },
      ],
    };
    const now = upTo(study, last);
    expect(text(replayFlagsOn(history, now, asked).replay)).toBe(
      text(replayFlagsOn(null, now, asked).replay),
    );
  });
});
