import { describe, expect, it } from "vitest";
import { replayFlags } from "../../src/flags/replay-flags.js";
import type { AnimalSeries, NetWeighing, StudySeries } from "../../src/series/animal-series.js";
import { localNoon } from "../../src/units/calendar.js";
import { everyThreeHours, hour } from "./invented-feeds.js";
import { healthyStudy, inventedSeries, inventedStudy, origin } from "./invented-study.js";

const fall = "2031-04-14";
const noon = localNoon(fall, "UTC");

/** A second weighing some hours after the day's first, on another scale. */
function weighedAgain(
  series: AnimalSeries,
  afterH: number,
  massG: number,
  row: Partial<NetWeighing["row"]> = {},
): AnimalSeries {
  const first = series.weighings.find((w) => w.feedingDay === fall)!;
  const at = first.at + afterH * hour;
  const again: NetWeighing = {
    ...first,
    at,
    netG: massG,
    standing: "shown only",
    row: { ...first.row, at, massG, scaleId: "S2", ...row },
  };
  return {
    ...series,
    weighings: [...series.weighings, again].sort((a, b) => a.at - b.at),
  };
}

describe("two scales on one animal", () => {
  const animal = inventedSeries({
    id: "A",
    birth: "2031-03-15",
    firstAge: 5,
    masses: Array.from({ length: 26 }, () => 2000),
  });
  const found = (a: AnimalSeries) => {
    const { raised, within } = replayFlags(inventedStudy([a]), {
      from: fall,
      to: fall,
      phaseOn: () => "milk",
    }).days[0]!.animals[0]!;
    return [...raised, ...within].find((s) => s.kind === "scales disagree");
  };

  it("disagree from four errors on: each scale's 0.2 % and 0.7 % of the mass for the gut", () => {
    // Errors 4 g and 4 g of the scales and 14 g: about 15.1 g together, so about 60 g apart.
    expect(found(weighedAgain(animal, 1, 2063))!.raised).toBe(true);
    const within = found(weighedAgain(animal, 1, 2058))!;
    expect(within.raised).toBe(false);
    expect(within.value.se).toBeCloseTo(Math.hypot(4, 0.002 * 2058, 14), 6);
  });

  it("are compared within three hours, and in the same state of coat and meal only", () => {
    expect(found(weighedAgain(animal, 2.9, 2200))!.raised).toBe(true);
    expect(found(weighedAgain(animal, 3.1, 2200))).toBeUndefined();
    expect(found(weighedAgain(animal, 1, 2200, { meal: "after" }))).toBeUndefined();
    expect(found(weighedAgain(animal, 1, 2200, { coat: "wet" }))).toBeUndefined();
    expect(found(weighedAgain(animal, 1, 2200, { scaleId: "S1" }))).toBeUndefined();
  });
});

describe("a fall shared by several animals", () => {
  const healthy = healthyStudy(12, 45, 20310601);
  /** Nine animals 5 % too low on S1; `count` of them weighed again on S2, `apart` higher. */
  const study = (count: number, apart: number): StudySeries => ({
    ...healthy,
    animals: healthy.animals.map((a, i) => {
      if (i >= 9) return a;
      const low = {
        ...a,
        daily: a.daily.map((d) => (d.feedingDay === fall ? { ...d, massG: d.massG * 0.95 } : d)),
        weighings: a.weighings.map((w) =>
          w.feedingDay === fall ? { ...w, netG: w.netG! * 0.95 } : w,
        ),
      };
      const read = low.weighings.find((w) => w.feedingDay === fall)!.netG!;
      return i < count ? weighedAgain(low, 1, read * (1 + apart)) : low;
    }),
  });
  const on = (s: StudySeries) =>
    replayFlags(s, { from: fall, to: fall, phaseOn: () => "milk" }).days[0]!;

  it("is put to the scale where two scales disagree on two of the animals, not on one", () => {
    expect(on(study(2, 0.053)).sharedCauses[0]!.scale).toBe("scales disagree");
    expect(on(study(1, 0.053)).sharedCauses[0]!.scale).toBe("not concluded");
    // Where the second scale reads as low as the first, the fall is the animals'.
    expect(on(study(9, 0)).sharedCauses[0]!.scale).toBe("not concluded");
  });

  it("is not put to a scale that was not used, nor to a check of another day", () => {
    const check = (scaleId: string, at: number) =>
      on({
        ...study(0, 0),
        scaleChecks: [{ scaleId, at, knownG: 2000, readingG: 1900, origin }],
      }).sharedCauses[0]!.scale;
    expect(check("S1", noon)).toBe("failed check");
    expect(check("S9", noon)).toBe("not concluded");
    expect(check("S1", noon - 48 * hour)).toBe("not concluded");
  });

  it("keeps every single animal on the list, with all five things to look at", () => {
    const { animals, sharedCauses } = on(study(2, 0.053));
    expect(animals).toHaveLength(12);
    expect(sharedCauses[0]!.toLookAt.map((n) => n.code)).toEqual([
      "shared-scale",
      "shared-formula",
      "shared-illness",
      "shared-surroundings",
      "shared-routine",
    ]);
    const alone = replayFlags(study(2, 0.053), { phaseOn: () => "milk" }).days;
    expect(alone.find((d) => d.onDay === fall)!.animals).toEqual(animals);
  });
});

describe("conversion", () => {
  /** Eight feeds a day of 120 kcal each: 960 kcal a day. */
  const grown = (id: string, birth: string, gainG: number, firstAge = 5) =>
    everyThreeHours(
      inventedSeries({
        id,
        birth,
        firstAge,
        masses: Array.from({ length: 30 }, (_, i) => 2000 + gainG * i),
      }),
      () => ({ offeredG: 60, refusedG: 0 }),
    );
  const group = (birth = "2031-03-15", firstAge = 5) =>
    ["B", "C", "D"].map((id, i) => grown(id, birth, 28 + 2 * i, firstAge));
  const found = (animals: readonly AnimalSeries[], day = "2031-04-14") => {
    const a = replayFlags(inventedStudy(animals), {
      from: day,
      to: day,
      phaseOn: () => "milk",
    }).days[0]!.animals.find((x) => x.animalId === "A")!;
    return {
      signal: [...a.raised, ...a.within].find((s) => s.kind === "conversion"),
      why: a.notJudged.find((n) => n.kind === "conversion")?.why.code,
    };
  };

  it("is gain per 1000 kcal against the median of others of the age", () => {
    const low = found([grown("A", "2031-03-15", 10), ...group()]).signal!;
    // 10 g/d from 960 kcal/d; the others 28, 30 and 32 g/d: 10.4 against 31.25, a third.
    expect(low.value.value).toBeCloseTo(10 / 0.96, 6);
    expect(low.evidence.contemporariesGPer1000Kcal).toBeCloseTo(30 / 0.96, 6);
    expect(low.raised).toBe(true);
    expect(found([grown("A", "2031-03-15", 14), ...group()]).signal!.raised).toBe(false);
  });

  it("is not compared across ages, with fewer than three, or over arrival", () => {
    expect(found([grown("A", "2031-03-15", 10), ...group("2031-01-15", 64)]).why).toBe(
      "flag-no-conversion",
    );
    expect(found([grown("A", "2031-03-15", 10), ...group().slice(0, 2)]).why).toBe(
      "flag-no-conversion",
    );
    const arriving = replayFlags(inventedStudy([grown("A", "2031-03-15", 10), ...group()]), {
      from: "2031-04-14",
      to: "2031-04-14",
      phaseOn: (id, d) => (id === "A" && d < "2031-04-05" ? "arrival" : "milk"),
    }).days[0]!.animals.find((x) => x.animalId === "A")!;
    expect(arriving.notJudged.map((n) => n.why.code)).toContain("flag-no-conversion");
  });

  it("is compared with earlier seasons at the same age, unless they are left out", () => {
    const earlier = group("2030-03-15").map((a) => ({
      ...a,
      animal: { ...a.animal, outcome: "released" as const, outcomeDate: "2030-04-18" },
    }));
    const animals = [grown("A", "2031-03-15", 10), ...earlier];
    expect(found(animals).signal!.raised).toBe(true);
    const alone = replayFlags(inventedStudy(animals), {
      from: "2031-04-14",
      to: "2031-04-14",
      phaseOn: () => "milk",
      earlierSeasons: false,
    }).days[0]!.animals[0]!;
    expect(alone.notJudged.map((n) => n.why.code)).toContain("flag-no-conversion");
  });

  it("must lie below the limit by more than its own weighings may err", () => {
    const noisy = grown("A", "2031-03-15", 10);
    const shaken = {
      ...noisy,
      daily: noisy.daily.map((d, i) => ({ ...d, massG: d.massG + (i % 2 === 0 ? 60 : -60) })),
    };
    expect(found([shaken, ...group()]).signal!.raised).toBe(false);
  });
});
