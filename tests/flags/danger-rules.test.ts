import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { noticeText } from "../../src/core/catalogue.js";
import { judgedSignal } from "../../src/flags/animal-day/judged-signals.js";
import type { SignalKind } from "../../src/flags/animal-day/signal.js";
import { animalLevels } from "../../src/flags/levels/animal-levels.js";
import type { ReplayOptions } from "../../src/flags/replay.js";
import { replayFlags } from "../../src/flags/replay-flags.js";
import type { AnimalSeries, ObservationRow, StudySeries } from "../../src/series/animal-series.js";
import { addDays, localInstant, localNoon } from "../../src/units/calendar.js";
import { ordersFrom } from "../series/plan-row.js";
import { everyThreeHours, feedRow, hour, observed, plan, withFeeds } from "./invented-feeds.js";
import { healthyStudy, inventedSeries, inventedStudy, signsFrom } from "./invented-study.js";

/** Dangers stand outside the budget; their limits are common practice unless a source is named. */
const day = "2031-03-25";
const noon = localNoon(day, "UTC");
const born = (birth: string, firstAge: number, count: number, id = "A") =>
  inventedSeries({
    id,
    birth,
    firstAge,
    masses: Array.from({ length: count }, (_, i) => 1900 * Math.exp(0.01 * i)),
  });
const base = born("2031-03-05", 2, 21);
const of = (study: StudySeries, options: ReplayOptions = {}, id = "A") =>
  replayFlags(study, {
    from: day,
    to: day,
    phaseOn: () => "milk",
    ...options,
  }).days[0]!.animals.find((a) => a.animalId === id)!;
const signal = <Kind extends SignalKind>(study: StudySeries, kind: Kind) =>
  judgedSignal(of(study), kind) ?? undefined;
const why = (study: StudySeries, kind: SignalKind) =>
  of(study).notJudged.find((n) => n.kind === kind)?.why;

describe("temperature", () => {
  const taken = (...written: readonly (readonly [string, string | null])[]) =>
    inventedStudy([
      {
        ...base,
        signs: signsFrom(
          written.map(([value, unit], i) =>
            observed("A", noon + i * hour, "temperature", value, unit),
          ),
        ),
      },
    ]);
  it("is read in degF however the unit is spelt, degF = degC x 9/5 + 32", () => {
    // 102.2 degF is 39 degC exactly; 99.5 degF is 37.5 degC, the low end of the range.
    for (const unit of ["degF", "F", "°F", "Fahrenheit"]) {
      expect(signal(taken(["102.2", unit]), "temperature")!.value.value).toBeCloseTo(39, 9);
      expect(signal(taken(["102.2", unit]), "temperature")!.raised).toBe(true);
      expect(signal(taken(["99.5", unit]), "temperature")!.raised).toBe(false);
    }
  });

  it("lets a thermometer err by 0.2 degC, both sides, and takes the worst of a day", () => {
    // Williams and Kocher 1978, as the species profile states: 37.5 to 38.1 degC.
    expect(signal(taken(["38.3", "degC"]), "temperature")!.raised).toBe(false);
    expect(signal(taken(["38.4", "degC"]), "temperature")!.raised).toBe(true);
    expect(signal(taken(["37.3", null]), "temperature")!.raised).toBe(false);
    expect(signal(taken(["37.2", null]), "temperature")!.direction).toBe("low");
    expect(
      signal(taken(["37.8", null], ["39", null], ["37.4", null]), "temperature")!.value.value,
    ).toBe(39);
  });

  it("is not judged where the value is no body temperature in any unit", () => {
    expect(why(taken(["9.82", null]), "temperature")!.code).toBe("flag-no-body-temperature");
    expect(signal(taken(["9.82", null], ["36.5", null]), "temperature")!.direction).toBe("low");
  });

  it("of a value that fits another unit is asked about, and counts as that until decided", () => {
    // 98.2 degF is 36.78 degC.
    const asked = taken(["98.2", null]);
    expect(signal(asked, "temperature")!.value.value).toBeCloseTo(36.78, 2);
    expect(signal(asked, "temperature")!.raised).toBe(true);
    expect(signal(asked, "entry not read")!.sentence.code).toBe("sign-unit-missing");
    expect(signal(taken(["100.2", null]), "temperature")!.raised).toBe(false);
    expect(signal(taken(["100.2", null]), "entry not read")!.raised).toBe(true);
    expect(signal(taken(["37.9", null]), "entry not read")).toBeUndefined();
  });
});

describe("a gap in the feeds", () => {
  const fedAt = (hours: readonly number[], animal = base, zoneNoon = noon) =>
    withFeeds(
      animal,
      hours.map((h) => ({ at: zoneNoon + h * hour, offeredG: 60, refusedG: 0 })),
    );
  const every3 = Array.from({ length: 60 }, (_, i) => -171 + 3 * i);
  const gapOf = (study: StudySeries) => {
    const danger = signal(study, "no feed")!;
    return danger.raised ? danger : signal(study, "missed feed")!;
  };

  it("has one name and one limit on the day's list and among the levels", () => {
    for (const hours of [5, 6, 6.5, 7, 9.5, 10, 12]) {
      const late = every3.filter((h) => h > -9 + hours && h < 12);
      const study = inventedStudy([fedAt([...every3.filter((h) => h <= -9), -9 + hours, ...late])]);
      const listed = gapOf(study);
      const { reasons } = animalLevels(study, { at: noon + 12 * hour - 1 })[0]!;
      const stands = reasons.find((r) => r.what === "no feed" || r.what === "missed feed");
      expect(stands?.what, `${hours} h`).toBe(listed.raised ? listed.kind : undefined);
      // Every 3 h: looked at beyond 6 h, a danger beyond a quarter more than 3 h and two feeds.
      expect(listed.raised, `${hours} h`).toBe(hours > 6);
      expect(listed.kind, `${hours} h`).toBe(hours > 9.75 ? "no feed" : "missed feed");
    }
  });

  it("is seen across midnight, and measured until the last line of the day while it runs", () => {
    // Feeds at ... 18:00, 21:00 the day before, the next at 06:00: 9 h; usual 3 h, limit 6 h.
    const across = fedAt(every3.filter((h) => h <= 6 && (h <= -15 || h >= -6)));
    const gap = gapOf(inventedStudy([across]));
    expect(gap.evidence).toMatchObject({ gapH: 9, usualH: 3 });
    expect(gap.raised).toBe(true);
    // Nothing after 18:00; another animal's feed at 23:00 shows that the pages go on.
    const stopped = fedAt(every3.filter((h) => h <= -3));
    const other = withFeeds(born("2031-03-05", 2, 21, "B"), [
      { at: noon + 11 * hour, offeredG: 60, refusedG: 0 },
    ]);
    expect(gapOf(inventedStudy([stopped, other])).evidence.gapH).toBe(14);
    // The only line after it is the weighing at 08:00 before: nothing says the day is over.
    expect(gapOf(inventedStudy([stopped])).raised).toBe(false);
  });

  it("counts hours that passed, through the night on which the clocks change", () => {
    // America/New_York, 2031-03-09: 02:00 becomes 03:00 (public rule since 2007).
    const zone = "America/New_York";
    const change = "2031-03-09";
    const animal = born("2031-02-20", 5, 25);
    const local = (d: string, clock: number) => localInstant(Date.parse(d) + clock * hour, zone);
    const days = Array.from({ length: 10 }, (_, i) => addDays(change, i - 8));
    const clocks = [1, 4, 7, 10, 13, 16, 19, 22];
    const study = (skip: (d: string, clock: number) => boolean) => {
      const feeds = days.flatMap((d) =>
        clocks.flatMap((c) => (skip(d, c) ? [] : [{ at: local(d, c), offeredG: 60, refusedG: 0 }])),
      );
      const plain = inventedStudy([withFeeds(animal, feeds)]);
      return { ...plain, settings: { ...plain.settings, zone } };
    };
    const on = (s: StudySeries) =>
      replayFlags(s, { from: change, to: change, phaseOn: () => "milk" }).days[0]!.animals[0]!;
    const find = (s: StudySeries) =>
      [...on(s).raised, ...on(s).within].find((x) => x.kind === "missed feed")!;
    // 22:00 to 07:00 by the clock with 01:00 and 04:00 missed: 8 h passed, not 9.
    const missed = find(study((d, c) => d === change && c < 7));
    expect(missed.evidence.gapH).toBe(8);
    expect(missed.raised).toBe(true);
    expect(find(study(() => false)).raised).toBe(false);
  });

  it("counts feeds of the group, and judges an animal of unknown age by the widest interval", () => {
    const until = every3.filter((h) => h <= -15);
    const shared = {
      ...fedAt(until),
      sharedFeeds: every3
        .filter((h) => h > -15 && h < 12)
        .map((h) => feedRow(null, { at: noon + h * hour, offeredG: 500, refusedG: 0 })),
    };
    expect(gapOf(inventedStudy([shared])).raised).toBe(false);
    const unknown = inventedSeries({
      id: "A",
      birth: "2031-03-05",
      firstAge: 2,
      masses: [1900, 1900],
    });
    const ageless: AnimalSeries = {
      ...fedAt([...until, 10]),
      age: { ...unknown.age, birth: null, birthEarliest: null, birthLatest: null },
      daily: base.daily.map((d) => ({ ...d, ageD: null })),
    };
    // Widest interval of the sea otter's bands 6 h, so from 12 h; the gap is 25 h.
    const gap = gapOf(inventedStudy([ageless]));
    expect(gap.evidence).toMatchObject({ gapH: 25, usualH: 6 });
    expect(gap.raised).toBe(true);
  });

  it("lets pass the pause that the plan orders, when all it orders was given", () => {
    // 70 days old: every 3 to 4 h, looked at beyond 8 h. Five feeds by day, 9.5 h at night.
    const older = born("2031-01-14", 50, 21);
    const five = [6.5, 10, 13.5, 17, 21].flatMap((c) =>
      Array.from({ length: 2 }, (_, i) => c - 12 - 24 * i),
    );
    const before = Array.from({ length: 40 }, (_, i) => -36 - 3 * i);
    const fed = (hours: readonly number[]) =>
      fedAt(
        [...hours].sort((a, b) => a - b),
        older,
      );
    const orders = ordersFrom([plan("A", noon - 60 * hour, { feedsPerDay: 5, gPerFeed: 100 })]);
    const all = { ...fed([...before, ...five]), orders };
    expect(gapOf(inventedStudy([all])).raised).toBe(false);
    // The same pause with an evening feed missing is 13 h.
    const fewer = { ...fed([...before, ...five.filter((h) => h !== -15)]), orders };
    expect(gapOf(inventedStudy([fewer])).raised).toBe(true);
    // With feed times the longest ordered pause is known: 21:00 to 06:30.
    const byTimes = plan("A", noon - 60 * hour, {
      feedsPerDay: null,
      feedTimes: ["06:30", "10:00", "13:30", "17:00", "21:00"],
    });
    expect(gapOf(inventedStudy([{ ...all, orders: ordersFrom([byTimes]) }])).raised).toBe(false);
  });
});

describe("stool and urine", () => {
  const daily = (id: string, birth: string, every: number, kind: "stool" | "urine") => {
    const animal = born(birth, 2, 24, id);
    return {
      ...animal,
      signs: signsFrom(
        animal.daily.flatMap((d, i): ObservationRow[] =>
          i % every === 0 ? [observed(id, d.at, kind, "formed")] : [],
        ),
      ),
    };
  };
  const evening = observed("A", noon + 11 * hour, "note", "quiet");
  const seen = (ageD: number, hoursAgo: number, text = "formed") => {
    const animal = born(addDays(day, -ageD), Math.max(0, ageD - 12), Math.min(13, ageD + 1));
    return {
      ...animal,
      signs: signsFrom([observed("A", noon + (11 - hoursAgo) * hour, "stool", text), evening]),
    };
  };

  it("are judged under the age limit only", () => {
    // Born at noon of the birth date; at 27 whole days it is still under 28 d, a day later not.
    expect(signal(inventedStudy([seen(27, 49)]), "no stool")!.raised).toBe(true);
    expect(signal(inventedStudy([seen(27, 47)]), "no stool")!.raised).toBe(false);
    expect(why(inventedStudy([seen(29, 49)]), "no stool")!.code).toBe("flag-old-enough");
  });

  it("do not take a line that says none for one that was seen", () => {
    const animal = seen(20, 60);
    const none = observed("A", noon - 2 * hour, "stool", "None");
    const study = inventedStudy([{ ...animal, signs: [...animal.signs, ...signsFrom([none])] }]);
    expect(signal(study, "no stool")!.evidence.hours).toBe(60);
  });

  it("are not judged where the pages of others leave such gaps, and say how often", () => {
    const others = ["B", "C", "D"].map((id) => daily(id, "2031-02-22", 3, "stool"));
    const study = inventedStudy([seen(20, 60), ...others]);
    const reason = why(study, "no stool")!;
    expect(reason.code).toBe("flag-excretion-not-written");
    // Written every third day: on one day in three the last line is 2 d 16 h old at its end.
    expect(Number(reason.parameters["gaps"])).toBeGreaterThan(25);
    expect(noticeText(reason)).toMatch(/says nothing about A/);
    const always = replayFlags(study, {
      from: day,
      to: day,
      phaseOn: () => "milk",
      rules: { excretionGapsPct: null },
    }).days[0]!.animals.find((a) => a.animalId === "A")!;
    expect(always.raised.map((s) => s.kind)).toContain("no stool");
  });

  it("are judged from admission on in a newcomer where others are written every day", () => {
    const others = ["B", "C", "D"].map((id) => daily(id, "2031-02-22", 1, "stool"));
    // Came at 08:00 three days before; the last line of the day is at 23:00: 63 h... of 72 + 15.
    const newcomer = { ...born(addDays(day, -9), 6, 4), signs: signsFrom([evening]) };
    const found = signal(inventedStudy([newcomer, ...others]), "no stool")!;
    expect(found.evidence.hours).toBe(3 * 24 + 15);
    expect(found.sentence.code).toBe("flag-no-excretion-yet");
    expect(why(inventedStudy([newcomer]), "no stool")!.code).toBe("flag-never-recorded");
  });
});

describe("acute loss", () => {
  const loses = (to: number, errorG = 20, gapDays = 1) => {
    const masses = [
      ...Array.from({ length: 18 }, () => 2000),
      ...Array(gapDays - 1).fill(null),
      to,
    ];
    return inventedStudy([
      inventedSeries({
        id: "A",
        birth: addDays(day, -(17 + gapDays) - 3),
        firstAge: 3,
        masses,
        errorG,
      }),
    ]);
  };
  it("is a danger from 10 % within two days and beyond twice its error, looked at from 5 %", () => {
    const raised = (...of: Parameters<typeof loses>) =>
      (["acute loss", "loss"] as const).map((kind) => signal(loses(...of), kind)!.raised);
    expect(raised(1799)).toEqual([true, false]);
    expect(raised(1801)).toEqual([false, true]);
    expect(raised(1899)).toEqual([false, true]);
    expect(raised(1901)).toEqual([false, false]);
    // Errors of 75 g a weighing: 5.3 % together, so 10.1 % is within twice that.
    expect(raised(1798, 75)).toEqual([false, false]);
    expect(raised(1799, 20, 2)).toEqual([true, false]);
    expect(why(loses(1799, 20, 3), "acute loss")!.code).toBe("flag-no-pair");
  });
});

describe("dangers and practice beside the budget", () => {
  it("are the same list whatever number was chosen", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 1_000_000 }),
        fc.double({ min: 0.5, max: 10, noNaN: true }),
        fc.array(fc.tuple(fc.nat(29), fc.double({ min: 35, max: 40, noNaN: true })), {
          maxLength: 5,
        }),
        (seed, budget, temperatures) => {
          const healthy = healthyStudy(5, 30, seed);
          const animals = healthy.animals.map((a, i) => {
            const fed = everyThreeHours(a, (d, k) =>
              (Number(d.slice(8)) * 7 + k + i + seed) % 23 < 4
                ? null
                : { offeredG: 70, refusedG: 5 },
            );
            const observations = temperatures.map(([n, value]) =>
              observed(a.animal.animalId, a.daily[n]!.at, "temperature", value.toFixed(2)),
            );
            return { ...fed, observations };
          });
          const outside = (per100: number) =>
            replayFlags(
              { ...healthy, animals },
              { phaseOn: () => "milk", falseFlagsPer100AnimalWeeks: per100 },
            ).days.map((d) =>
              d.animals
                .map(
                  (a) => [a.animalId, a.raised.filter((s) => s.class !== "statistical")] as const,
                )
                .sort((x, y) => (x[0] < y[0] ? -1 : 1)),
            );
          const chosen = outside(budget);
          expect(chosen).toEqual(outside(0.5));
          expect(chosen).toEqual(outside(10));
        },
      ),
      { numRuns: 6, seed: 20311125 },
    );
  });
});
