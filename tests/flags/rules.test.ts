import { describe, expect, it } from "vitest";
import { noticeText } from "../../src/core/catalogue.js";
import { judgedSignal } from "../../src/flags/animal-day/judged-signals.js";
import type { Signal, SignalKind } from "../../src/flags/animal-day/signal.js";
import { calibrateFlags } from "../../src/flags/budget/calibrate-flags.js";
import { missingGrams } from "../../src/flags/missing-grams.js";
import { replayFlags } from "../../src/flags/replay-flags.js";
import type {
  AnimalSeries,
  ObservationRow,
  SeriesFeed,
  StudySeries,
} from "../../src/series/animal-series.js";
import { addDays, localNoon } from "../../src/units/calendar.js";
import { ordersFrom } from "../series/plan-row.js";
import { plan } from "./invented-feeds.js";
import {
  healthyStudy,
  inventedSeries,
  inventedStudy,
  origin,
  signsFrom,
} from "./invented-study.js";

const hour = 3_600_000;
const grows = (start: number, n: number, rate: number) =>
  Array.from({ length: n }, (_, i) => start * Math.exp(rate * i));

function observed(
  animalId: string,
  at: number,
  kind: ObservationRow["kind"],
  value: number | null,
): ObservationRow {
  return {
    animalId,
    at,
    kind,
    value,
    valueText: value === null ? null : String(value),
    unit: kind === "temperature" ? "degC" : null,
    notes: null,
    origin,
  };
}

function fed(
  animalId: string,
  at: number,
  offeredG: number,
  eatenG: number,
  kcalPerG = 2,
): SeriesFeed {
  return {
    row: {
      animalId,
      groupId: null,
      at,
      dietId: "F",
      batchId: null,
      offeredG,
      refusedG: offeredG - eatenG,
      route: "bottle",
      notes: null,
      origin,
    },
    at,
    feedingDay: new Date(at).toISOString().slice(0, 10),
    offeredG,
    eatenG,
    eatenLowG: eatenG,
    eatenHighG: eatenG,
    composition: {
      waterPct: null,
      proteinPct: null,
      fatPct: null,
      carbohydratePct: null,
      fibrePct: null,
      ashPct: null,
      energyKcalPerG: kcalPerG,
      kind: "formula",
    },
    densityGPerMl: null,
    dietId: "F",
    batchAgeH: null,
    useByH: null,
  };
}

/** Feeds every 3 h day and night, `share` of `offered` eaten, from the first to the last weighed day. */
function withFeeds(
  series: AnimalSeries,
  perDay: (day: string) => number,
  offeredFactor = 1,
): AnimalSeries {
  const feeds = series.daily.flatMap((d) =>
    Array.from({ length: 8 }, (_, k) => {
      const each = perDay(d.feedingDay) / 8;
      return fed(
        series.animal.animalId,
        localNoon(d.feedingDay, "UTC") - 12 * hour + (3 * k + 1) * hour,
        each * offeredFactor,
        each,
      );
    }),
  );
  return { ...series, feeds };
}

const day = "2031-03-25";
const base = inventedSeries({
  id: "A",
  birth: "2031-03-05",
  firstAge: 2,
  masses: grows(1900, 21, 0.01),
});
const noon = localNoon(day, "UTC");
const on = (animal: AnimalSeries, options = {}) => {
  const days = replayFlags(inventedStudy([animal]), {
    from: day,
    to: day,
    phaseOn: () => "milk",
    ...options,
  }).days;
  return days[0]!.animals[0]!;
};
const raised = <Kind extends SignalKind>(animal: AnimalSeries, kind: Kind, options = {}) => {
  const signal = judgedSignal(on(animal, options), kind);
  return signal?.raised ? signal : undefined;
};

describe("danger rules", () => {
  it("raise a temperature outside the species range, in either unit, and not inside it", () => {
    // Sea otter pups 37.5 to 38.1 degC (Williams and Kocher 1978, as the species profile states).
    const at = (value: number, unit = "degC") =>
      raised(
        { ...base, signs: signsFrom([{ ...observed("A", noon, "temperature", value), unit }]) },
        "temperature",
      );
    expect(at(36.9)!.direction).toBe("low");
    expect(at(38.6)!.direction).toBe("high");
    expect(at(37.8)).toBeUndefined();
    expect(at(100.1, "degF")).toBeUndefined();
    expect(at(97.5, "degF")!.value.value).toBeCloseTo(36.39, 2);
  });

  it("raise stool and urine not recorded for 48 h in the very young, and judge neither where never written", () => {
    const stool = (hours: number) =>
      raised(
        {
          ...base,
          // A gap that still runs is measured until the last line of the day.
          signs: signsFrom([
            observed("A", noon + 12 * hour - hours * hour, "stool", null),
            observed("A", noon + 12 * hour - 1, "note", null),
          ]),
        },
        "no stool",
      );
    expect(stool(49)!.evidence.hours).toBeCloseTo(49, 6);
    expect(stool(47)).toBeUndefined();
    expect(on(base).notJudged.find((n) => n.kind === "no urine")!.why.code).toBe(
      "flag-never-recorded",
    );
  });

  it("raise a gap in the feeds: one feed missing is looked at, three are a danger", () => {
    const full = withFeeds(base, () => 480);
    const gap = {
      ...full,
      feeds: full.feeds.filter((f) => f.at < noon - 4 * hour || f.at > noon + 4 * hour),
    };
    // Feeds at 1, 4, ... 22 h; those from 8 to 16 h are missing, so 7 to 19 h is the gap.
    for (const kind of ["no feed", "missed feed"] as const)
      expect(raised(full, kind)).toBeUndefined();
    expect(raised(gap, "no feed")!.evidence.gapH).toBe(12);
    expect(raised(gap, "missed feed")).toBeUndefined();
  });

  it("raise an acute loss between two days, outside any budget", () => {
    const masses = [...grows(1900, 20, 0.01), 2050];
    const animal = inventedSeries({
      id: "A",
      birth: "2031-03-05",
      firstAge: 2,
      masses,
      errorG: 30,
    });
    const last = addDays("2031-03-05", 22);
    const signal = (per100: number): Signal | undefined =>
      replayFlags(inventedStudy([animal]), {
        from: last,
        to: last,
        phaseOn: () => "milk",
        falseFlagsPer100AnimalWeeks: per100,
      }).days[0]!.animals[0]!.raised.find((s) => s.kind === "acute loss");
    // 100 (1 - 2050 / (1900 exp(0.19))) = 10.77 %.
    expect(signal(0.5)!.value.value).toBeCloseTo(100 * (1 - 2050 / (1900 * Math.exp(0.19))), 9);
    expect(signal(10)).toEqual(signal(0.5));
  });
});

describe("feeding rules", () => {
  const standing = plan("A", noon - 20 * 24 * hour);
  const yesterday = addDays(day, -1);
  it("judge the last full day against the plan and the animal's own habit", () => {
    const poor = {
      ...withFeeds(base, (d) => (d === yesterday ? 240 : 480), 1),
      orders: ordersFrom([standing]),
    };
    expect(raised(poor, "eaten below plan")!.evidence).toMatchObject({
      eaten: 240,
      planned: 480,
      unit: "g",
    });
    expect(raised(poor, "eaten below habit")!.value.value).toBeCloseTo(50, 9);
    const good = { ...withFeeds(base, () => 480), orders: ordersFrom([standing]) };
    expect(raised(good, "eaten below plan")).toBeUndefined();
    const much = {
      ...withFeeds(base, (d) => (d === yesterday ? 700 : 480)),
      orders: ordersFrom([standing]),
    };
    expect(raised(much, "eaten above plan")!.direction).toBe("high");
  });

  it("compare energy, not grams, where another diet was fed than was planned", () => {
    // Planned 480 g of P at 2 kcal/g; 240 g of F at 4 kcal/g hold the same energy.
    const other = { ...standing, dietId: "P" };
    const made = withFeeds(base, (d) => (d === yesterday ? 240 : 480), 1);
    const composed = (kcalPerG: number) => ({
      waterPct: null,
      proteinPct: null,
      fatPct: null,
      carbohydratePct: null,
      fibrePct: null,
      ashPct: null,
      energyKcalPerG: kcalPerG,
      kind: "formula" as const,
    });
    const start = made.feeds.find((f) => f.feedingDay === yesterday)!.at;
    const feeds = made.feeds.map((f) =>
      f.at < start
        ? { ...f, dietId: "P", composition: composed(2) }
        : { ...f, dietId: "F", composition: composed(4) },
    );
    const animal = { ...made, feeds, orders: ordersFrom([other]) };
    const within = on(animal).within.find((s) => s.kind === "eaten below plan")!;
    expect(within.evidence).toMatchObject({ eaten: 960, planned: 960, unit: "kcal" });
    // Without the energy of the planned diet there is nothing to compare.
    const unknown = { ...animal, feeds: feeds.filter((f) => f.dietId === "F") };
    expect(on(unknown).notJudged.find((n) => n.kind === "eaten below plan")!.why.code).toBe(
      "flag-plan-other-diet",
    );
  });

  it("take the newest plan, not the sum of all that never ended", () => {
    const orders = ordersFrom([
      standing,
      { ...standing, from: noon - 3 * 24 * hour, gPerFeed: 50 },
    ]);
    const animal = { ...withFeeds(base, () => 400), orders };
    const within = on(animal).within.find((s) => s.kind === "eaten below plan")!;
    expect(within.evidence.planned).toBe(400);
  });

  it("judge refusals by their share", () => {
    // From half of the offer at once: 480 g of 1,000 g eaten.
    const half = withFeeds(base, () => 480, 1000 / 480);
    expect(raised(half, "refusals")!.value.value).toBeCloseTo(52, 9);
    expect(
      raised(
        withFeeds(base, () => 480, 1.2),
        "refusals",
      ),
    ).toBeUndefined();
  });
});

describe("a fall shared by several animals", () => {
  const fall = "2031-04-14";
  const healthy = healthyStudy(12, 45, 20310601);
  const low = (share: number, count: number): StudySeries => ({
    ...healthy,
    animals: healthy.animals.map((a, i) =>
      i < count
        ? {
            ...a,
            daily: a.daily.map((d) =>
              d.feedingDay === fall ? { ...d, massG: d.massG * (1 - share) } : d,
            ),
          }
        : a,
    ),
  });
  const of = (study: StudySeries) =>
    replayFlags(study, { from: fall, to: fall, phaseOn: () => "milk" }).days[0]!;

  it("is told at once with everything to look at, and never put down to the scale alone", () => {
    const shared = of(low(0.05, 9)).sharedCauses[0]!;
    expect(shared.animals.length).toBeGreaterThanOrEqual(6);
    expect(shared.scale).toBe("not concluded");
    expect(shared.toLookAt.map((n) => n.code)).toEqual([
      "shared-scale",
      "shared-formula",
      "shared-illness",
      "shared-surroundings",
      "shared-routine",
    ]);
    for (const n of shared.toLookAt) expect(noticeText(n).length).toBeGreaterThan(20);
  });

  it("names the scale only after a failed check", () => {
    const at = localNoon(fall, "UTC");
    const checked = (readingG: number) =>
      of({ ...low(0.05, 9), scaleChecks: [{ scaleId: "S1", at, knownG: 2000, readingG, origin }] })
        .sharedCauses[0]!;
    expect(checked(1900).scale).toBe("failed check");
    expect(checked(2001).scale).toBe("not concluded");
  });

  it("leaves the flags of single animals as they are, and is not told of one animal", () => {
    expect(
      of(low(0.12, 9)).animals.filter((a) => a.status === "flagged").length,
    ).toBeGreaterThanOrEqual(6);
    expect(of(low(0.12, 1)).sharedCauses).toEqual([]);
    expect(of(healthy).sharedCauses).toEqual([]);
  });
});

describe("missing grams", () => {
  const contemporariesFed = Array.from({ length: 6 }, (_, i) =>
    withFeeds(
      inventedSeries({
        id: `C${i}`,
        birth: "2031-03-05",
        firstAge: 5,
        masses: grows(1900 + 20 * i, 30, 0.01),
      }),
      () => 450 + 5 * i,
    ),
  );
  const window = { from: "2031-03-25", to: "2031-04-08" };
  const slow = (rate: number, grams: number) =>
    missingGrams(
      inventedStudy([
        ...contemporariesFed,
        withFeeds(
          inventedSeries({
            id: "slow",
            birth: "2031-03-05",
            firstAge: 5,
            masses: grows(1950, 30, rate),
          }),
          () => grams,
        ),
      ]),
      "slow",
      window,
    ).value;

  it("are the contemporaries' relative gain times the animal's size, less its own gain", () => {
    // By construction 0.5 %/d of about 2,260 g over 14 d are missing: about 158 g.
    const m = slow(0.005, 462);
    const mean =
      grows(1950, 30, 0.005)
        .slice(15, 30)
        .reduce((a, b) => a + b, 0) / 15;
    expect(m.missing.value!).toBeCloseTo(0.01 * mean * 14 - m.own.gainG, 6);
    expect(m.missing.value!).toBeGreaterThan(100);
  });

  it("are put to intake where it ate too little, and to the rest where it ate enough", () => {
    const ate = slow(0.005, 462);
    expect(Math.abs(ate.fromIntake.value!)).toBeLessThan(0.25 * ate.missing.value!);
    expect(ate.rest.value! + ate.fromIntake.value!).toBeCloseTo(ate.missing.value!, 6);
    const starved = slow(0.005, 240);
    expect(starved.fromIntake.value!).toBeGreaterThan(0.7 * starved.missing.value!);
  });

  it("are not split without feeds, and say so", () => {
    const bare = missingGrams(
      inventedStudy([
        ...contemporariesFed,
        inventedSeries({
          id: "slow",
          birth: "2031-03-05",
          firstAge: 5,
          masses: grows(1950, 30, 0.005),
        }),
      ]),
      "slow",
      window,
    );
    expect(bare.value.missing.value).not.toBeNull();
    expect(bare.value.rest.value).toBeNull();
    expect(bare.notices.map((n) => n.code)).toContain("missing-grams-no-intake");
  });
});

describe("calibration for a study's own animals", () => {
  const study = healthyStudy(6, 30, 20310701);
  it("is the same for the same seed, hands a cached one back, and can be cancelled", async () => {
    const first = await calibrateFlags(study, { species: "sea otter", seed: 9, groups: 8 });
    const again = await calibrateFlags(study, { species: "sea otter", seed: 9, groups: 8 });
    expect(again).toEqual(first);
    const cached = await calibrateFlags(study, {
      species: "sea otter",
      seed: 9,
      groups: 8,
      cached: first.value,
    });
    expect(cached.value).toBe(first.value);
    expect(cached.method.options["reused"]).toBe(true);
    const thresholds = first.value.sizes[0]!.thresholds.map((t) => t.values["slowed gain"]);
    expect(thresholds).toEqual(thresholds.slice().sort((a, b) => b - a));
    const stop = new AbortController();
    stop.abort();
    await expect(
      calibrateFlags(study, { species: "sea otter", groups: 8, signal: stop.signal }),
    ).rejects.toThrow();
    await expect(calibrateFlags(study, { species: "harbour seal" })).rejects.toThrow(
      /at least 4 animals/,
    );
  });
});

describe("the replay", () => {
  it("gives each day exactly what that day's list was, and the future moves nothing", () => {
    const study = healthyStudy(8, 35, 20310801);
    const middle = addDays("2031-03-10", 20);
    const later = replayFlags(study, { phaseOn: () => "milk" }).days.find(
      (d) => d.onDay === middle,
    )!;
    const then = replayFlags(study, { from: middle, to: middle, phaseOn: () => "milk" }).days[0]!;
    expect(then).toEqual(later);
    const perturbed = {
      ...study,
      animals: study.animals.map((a) => ({
        ...a,
        daily: a.daily.map((d) => (d.feedingDay > middle ? { ...d, massG: d.massG / 2 } : d)),
      })),
    };
    expect(
      replayFlags(perturbed, { phaseOn: () => "milk" }).days.find((d) => d.onDay === middle),
    ).toEqual(later);
  });
});
