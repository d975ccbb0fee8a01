import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { noticeText } from "../../src/core/catalogue.js";
import { batchSize } from "../../src/planning/batch-size.js";
import { compareRations } from "../../src/planning/compare-rations.js";
import { daySheet } from "../../src/planning/day-sheet.js";
import { planRation } from "../../src/planning/plan-ration.js";
import type { RationOptions } from "../../src/planning/ration-options.js";
import { restingEnergy } from "../../src/rates/nutrition-formulas.js";
import { convert } from "../../src/units/quantity.js";
import {
  clam,
  dailyMasses,
  day,
  feedsEvery,
  formula,
  hour,
  settings,
  smallSeries,
  start,
} from "../rates/small-study.js";

const at = start + 9 * day + 12 * hour;
/** A sea otter of about 20 days that every hold rule lets through. */
const well = (massG: (d: number) => number = () => 2000) => ({
  weighings: dailyMasses(10, massG),
  feeds: feedsEvery(3, start, at, { offeredG: 80, refusedG: 5 }),
  observations: [
    { at: at - 3 * hour, kind: "temperature", value: 37.8, unit: "degC" },
    { at: at - 5 * hour, kind: "stool", valueText: "formed" },
    { at: at - 4 * hour, kind: "urine", valueText: "clear" },
  ],
});
type Parts = Parameters<typeof smallSeries>[0];
const ration = (parts: Parts = well(), more: Partial<RationOptions> = {}) =>
  planRation(smallSeries(parts), { settings, at, ...more }).value;
const codes = (r: { notices: readonly { code: string }[] }) => r.notices.map((n) => n.code);
const grams = (r: { feeds: readonly { g: number }[] }) => r.feeds.map((f) => f.g);
const sum = (xs: readonly number[]) => xs.reduce((a, b) => a + b, 0);

describe("a ration", () => {
  it("by hand: 30 % of 2 kg is 600 g, in twelve feeds two hours apart, the sum exact", () => {
    const r = ration();
    expect(r.status).toBe("ration");
    expect(r.feedingDay).toBe("2025-05-11");
    // Demand 5.03 x 70 x 2^0.75 = 592 kcal is less than 600 g x 1.16 kcal/g.
    expect(r.totalG).toBe(600);
    expect(grams(r)).toEqual(new Array(12).fill(50));
    expect(r.feeds.map((f) => f.time).slice(0, 3)).toEqual(["06:00", "08:00", "10:00"]);
    expect(r.feeds.at(-1)?.time).toBe("04:00");
    expect(r.kcal.value).toBeCloseTo(696, 8);
    expect(r.shareOfMassPct.value).toBeCloseTo(30, 8);
    expect(r.waterMlPerKg.value).toBeCloseTo(240, 8);
    expect(r.proteinG.value).toBeCloseTo(48, 8);
    expect(r.feeds[0]?.ml).toBeCloseTo(50 / 1.03, 8);
    expect(r.recentEatenG.value).toBe(600);
    expect(codes(r)).toContain("ration-review");
  });

  it("says that the mass it rests on is unusual for the species at that age", () => {
    // Under 90 days 1 to 7 kg is usual of a sea otter (the course named in its profile).
    const heavy = ration(well(() => 7600));
    expect(codes(heavy)).toContain("ration-mass-implausible");
    expect(codes(ration())).not.toContain("ration-mass-implausible");
  });

  it("adds up to the gram and keeps its limits, whatever the mass, feeds and shares", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 900, max: 15000, noNaN: true }),
        fc.integer({ min: 1, max: 16 }),
        fc.double({ min: 0, max: 100, noNaN: true }),
        fc.option(fc.double({ min: 0.5, max: 6, noNaN: true }), { nil: undefined }),
        (massG, feedsPerDay, solids, limit) => {
          const parts = {
            ...well(() => massG),
            feeds: [...well().feeds, { at: at - 5 * hour, dietId: "clam" }],
          };
          const r = ration(parts, {
            feedsPerDay,
            solidsEnergyPct: solids,
            target: { kind: "share of mass", pct: 25 },
            limits: { risePct: null, ...(limit === undefined ? {} : { feedPctOfMass: limit }) },
          });
          if (r.status !== "ration") return;
          expect(sum(grams(r))).toBe(r.totalG);
          expect(sum(r.parts.map((p) => p.g))).toBe(r.totalG);
          for (const g of grams(r)) {
            expect(Number.isInteger(g)).toBe(true);
            if (limit !== undefined) expect(g).toBeLessThanOrEqual((limit / 100) * massG);
          }
          expect(r.feeds.length).toBeLessThanOrEqual(feedsPerDay);
          expect(r.totalG!).toBeLessThanOrEqual(0.25 * massG + 1);
        },
      ),
      { seed: 20260202, numRuns: 150 },
    );
  });

  it("divides formula and solids so that solids give their share of the energy", () => {
    const r = ration(
      { ...well(), feeds: [...well().feeds, { at: at - 5 * hour, dietId: "clam" }] },
      { solidsEnergyPct: 30, target: { kind: "energy", kcalPerD: 600 }, limits: { risePct: null } },
    );
    const kcal = Object.fromEntries(r.parts.map((p) => [p.kind, p.kcal!]));
    expect(kcal["solid"]! / (kcal["solid"]! + kcal["formula"]!)).toBeCloseTo(0.3, 2);
    expect(r.kcal.value!).toBeGreaterThan(599);
    expect(r.kcal.value!).toBeLessThan(602);
    expect(r.parts.every((p) => p.feeds > 0)).toBe(true);
  });

  it("follows a plan that is in force, and shows it as ordered also beyond a limit", () => {
    const plans = [
      {
        from: start,
        dietId: "formula",
        gPerFeed: 90,
        feedTimes: ["06:00", "10:00", "14:00", "18:00", "22:00", "02:00"],
      },
    ];
    const r = ration({ ...well(), plans });
    expect(r.target.kind).toBe("plan");
    expect(grams(r)).toEqual(new Array(6).fill(90));
    expect(r.feeds.map((f) => f.time)).toEqual([
      "06:00",
      "10:00",
      "14:00",
      "18:00",
      "22:00",
      "02:00",
    ]);
    const more = ration({ ...well(), plans: [{ ...plans[0]!, gPerFeed: 150 }] });
    expect(more.totalG).toBe(900);
    expect(codes(more)).toContain("ration-plan-over-limit");
  });

  it("works out a target gain from an energy balance", () => {
    const r = ration(well(), {
      target: { kind: "gain", gainGPerD: 20, maintenanceKcal: 300, growthKcalPerG: 3 },
      limits: { risePct: null },
    });
    expect(r.kcal.value!).toBeCloseTo(300 * 2 ** 0.75 + 60, 0);
  });

  it("needs a profile, a plan or a target: nothing of another species stands in", () => {
    const parts = {
      ...well(),
      species: "walrus",
      settings: { speciesOverrides: { walrus: { bodyTemperature: [36, 39] } } },
    };
    const own = { ...settings, ...parts.settings };
    const r = ration(parts, { settings: own });
    expect([r.status, r.totalG]).toEqual(["not computed", null]);
    expect(codes(r)).toContain("ration-no-profile");
    const with8 = ration(parts, {
      settings: own,
      target: { kind: "share of mass", pct: 8 },
      feedsPerDay: 5,
    });
    expect(with8.totalG).toBe(160);
  });

  it.each([
    [{ diets: [{ ...formula, energyKcalPerG: 0 }] }, "ration-diet-no-energy"],
    [{ diets: [] }, "ration-no-diet"],
    [{ animal: { outcome: "released", outcomeDate: "2025-05-10" } }, "ration-not-in-care"],
  ])("is not computed, with the reason: %j", (change, code) => {
    const r = ration({ ...well(), ...(change as object) });
    expect(r.status).toBe("not computed");
    expect(grams(r)).toEqual([]);
    expect(codes(r)).toContain(code);
  });

  it("asks for a solid before it plans one", () => {
    expect(codes(ration(well(), { solidsEnergyPct: 30 }))).toContain("ration-no-solid");
  });

  it("waits in the fast after weaning of the harbour seal", () => {
    const fish = (from: number, to: number, g: number) =>
      feedsEvery(4, start + from * day, start + to * day, {
        dietId: "clam",
        offeredG: 250,
        refusedG: 250 - g,
      });
    const then = start + 30 * day + 12 * hour;
    const series = smallSeries({
      species: "harbour seal",
      weighings: dailyMasses(31, (d) => 9000 + 150 * Math.min(d, 24)),
      feeds: [...feedsEvery(4, start, start + 16 * day), ...fish(16, 24, 240), ...fish(24, 31, 15)],
      observations: [{ at: then - hour, kind: "temperature", value: 37, unit: "degC" }],
    });
    const r = planRation(series, { settings, at: then }).value;
    expect(r.status).toBe("not computed");
    expect(codes(r)).toContain("ration-in-fast");
  });
});

describe("a slow gain", () => {
  it("never raises a ration by itself", () => {
    // Same mass at the end; one lost a little, one stood still, one gained fast.
    const of = (perDay: number) => well((d) => 2000 + perDay * (d - 9));
    const at9 = (perDay: number) => ration(of(perDay), { target: { kind: "profile" } });
    // 270 g of 2270 g lost are a danger: nothing is suggested at all.
    expect(at9(-30).status).toBe("hold");
    const fast = at9(60);
    for (const slow of [at9(-8), at9(0), at9(20)]) {
      // The smoothed mass at noon lies half a day past the last weighing; compare per gram.
      expect(slow.totalG! / slow.massG.value!).toBeCloseTo(fast.totalG! / fast.massG.value!, 3);
      expect(slow.totalG!).toBeLessThanOrEqual(fast.totalG! + 1);
    }
  });

  it("of an animal that leaves half its food is not answered with more", () => {
    const leaves = { ...well(), feeds: feedsEvery(3, start, at, { offeredG: 80, refusedG: 40 }) };
    expect(ration(leaves).totalG!).toBeLessThanOrEqual(ration().totalG!);
  });
});

describe("limits", () => {
  it("hold the rise from day to day, down to the gram", () => {
    const little = { ...well(), feeds: feedsEvery(3, start, at, { offeredG: 40, refusedG: 0 }) };
    const r = ration(little);
    // 8 x 40 g offered a day, and 10 %.
    expect(r.totalG).toBe(352);
    expect(r.limits.find((l) => l.limit === "rise from day to day")).toMatchObject({ binds: true });
    expect(codes(r)).toEqual(
      expect.arrayContaining(["ration-rise-limited", "ration-below-demand"]),
    );
    expect(ration(little, { limits: { risePct: null } }).totalG).toBe(600);
  });

  it("make more, smaller feeds before they cut the day", () => {
    const plans = [{ from: start, feedsPerDay: 6 }];
    const limits = { feedPctOfMass: 4, risePct: null };
    const r = ration({ ...well(), plans }, { limits });
    expect([r.totalG, r.feeds.length]).toEqual([600, 8]);
    expect(codes(r)).toContain("ration-more-feeds");
    const tight = ration({ ...well(), plans }, { limits: { ...limits, feedPctOfMass: 2 } });
    expect([tight.totalG, tight.feeds.length]).toEqual([480, 12]);
    expect(codes(tight)).toContain("ration-feed-limited");
    expect(Math.max(...grams(tight))).toBeLessThanOrEqual(40);
  });

  it("hold the water where a limit is entered, and say when no source gives one for a feed", () => {
    const r = ration(well(), { limits: { waterMlPerKg: 200 } });
    expect(r.waterMlPerKg.value!).toBeLessThanOrEqual(200 + 1e-9);
    expect(codes(r)).toEqual(
      expect.arrayContaining(["ration-water-limited", "ration-no-feed-limit"]),
    );
  });
});

describe("on hold", () => {
  const ill = {
    ...well(),
    observations: [...well().observations, { at: at - hour, kind: "vomit", valueText: "twice" }],
  };

  it("nothing is suggested: not in the ration, the scenarios or the batch; an order stands", () => {
    const r = ration({ ...ill, plans: [{ from: start, gPerFeed: 60, feedsPerDay: 8 }] });
    expect(r.status).toBe("hold");
    expect(noticeText(r.notices[0]!)).toBe("hold: ask the veterinarian");
    expect([r.feeds, r.parts, r.totalG, r.kcal.value, r.recentEatenG.value]).toEqual([
      [],
      [],
      null,
      null,
      null,
    ]);
    // DESIGN: orders are printed as ordered at every level; the reasons stand above them.
    const sheet = daySheet([r], r.feedingDay).value.animals[0]!;
    expect(sheet.rows.map((row) => [row.time, row.amount])).toEqual(
      new Array(8).fill([null, "60 g"]),
    );
    expect(sheet.suggestion).toBeNull();
    expect(sheet.hold.map((n) => n.code)).toEqual(["sign-danger-hold"]);
    const bare = daySheet([ration(ill)], r.feedingDay).value.animals[0]!;
    expect([bare.rows, bare.totalG, bare.suggestion]).toEqual([[], null, null]);
    const compared = compareRations(smallSeries(ill), { settings, at }).value;
    expect(compared.map((c) => [c.ration.status, c.ration.totalG])).toEqual(
      new Array(4).fill(["hold", null]),
    );
    const batch = batchSize([r], { from: at });
    expect(batch.value).toEqual([]);
    expect(batch.notices.map((n) => n.code)).toEqual(["batch-animals-on-hold"]);
  });

  it("is decided by limits that can be edited", () => {
    expect(ration(ill, { levelLimits: { vomits: null } }).status).toBe("ration");
  });

  it("never suggests more than before it for 24 h after something came up", () => {
    const once = {
      ...well(),
      observations: [...well().observations, { at: at - hour, kind: "vomit", valueText: "once" }],
    };
    const plans = [{ from: start, gPerFeed: 60, feedsPerDay: 8 }];
    // As ordered, 480 g stand; half as much again is no more than what was ordered before.
    expect(ration({ ...once, plans })).toMatchObject({ asOrdered: true, totalG: 480 });
    const more = { scalePct: 150, limits: { risePct: null } };
    expect(ration({ ...well(), plans }, more).totalG).toBe(720);
    const capped = ration({ ...once, plans }, more);
    expect(capped.totalG!).toBeLessThanOrEqual(480);
    expect(capped.totalG!).toBeGreaterThan(450);
    expect(codes(capped)).toContain("ration-capped");
  });
});

describe("sea otters are not underfed by a default", () => {
  // Thometz et al. 2014, J Exp Biol 217:2053: field demand 2.29 MJ/d (547 kcal)
  // in the first weeks and 7.41 MJ/d (1771 kcal) near independence; masses of
  // 1.8 and 12 kg assumed. Dog and cat growth multipliers are 2 to 3 times the
  // resting requirement (Small Animal Clinical Nutrition).
  const stages = [
    { massG: 1800, ageD: 14, kcal: convert(2.29, "MJ", "kcal") },
    { massG: 12000, ageD: 160, kcal: convert(7.41, "MJ", "kcal") },
  ];
  const otter = (massG: number, ageD: number, diet: typeof formula, offeredG: number): Parts => {
    const born = new Date(at - ageD * day).toISOString().slice(0, 10);
    return {
      ...well(() => massG),
      animal: { birthDateEarliest: born, birthDateLatest: born },
      diets: [diet],
      feeds: feedsEvery(3, start, at, { offeredG, dietId: diet.dietId }),
    };
  };

  it.each(stages)("with the default target, thin formula or rich: %j", ({ massG, ageD, kcal }) => {
    for (const energyKcalPerG of [0.7, 0.9, 1.06, 1.6, 2.7]) {
      const diet = { ...formula, energyKcalPerG };
      const r = ration(otter(massG, ageD, diet, massG / 16), { limits: { risePct: null } });
      expect(r.target).toEqual({ kind: "profile" });
      expect(r.kcal.value!).toBeGreaterThanOrEqual(kcal * 0.999);
    }
  });

  it("and a multiplier as for dogs and cats is named as too little", () => {
    for (const { massG, ageD } of stages) {
      const target = { kind: "energy", kcalPerD: 3 * restingEnergy(massG / 1000) } as const;
      const r = ration(otter(massG, ageD, formula, massG / 16), { target });
      expect(codes(r)).toContain("ration-below-demand");
    }
  });
});

describe("scenarios and sheets", () => {
  const mixed = {
    ...well(),
    feeds: [...well().feeds, { at: at - 5 * hour, dietId: "clam", offeredG: 20 }],
  };

  it("stand side by side under the same limits", () => {
    const compared = compareRations(smallSeries(mixed), {
      settings,
      at,
      limits: { risePct: 50 },
    }).value;
    expect(compared.map((c) => c.name)).toEqual([
      "as it stands",
      "10 % more",
      "formula 15 % richer, same grams",
      "30 % of the energy of a ration from solids",
    ]);
    const [base, more, rich, solids] = compared;
    expect(more!.ration.totalG).toBe(Math.round(1.1 * base!.ration.totalG!));
    expect(rich!.moreG).toBe(0);
    expect(rich!.moreKcal!).toBeGreaterThan(0);
    const share =
      solids!.ration.parts.find((p) => p.kind === "solid")!.kcal! / solids!.ration.kcal.value!;
    expect(share).toBeCloseTo(0.3, 2);
  });

  it("tell the kitchen what to have ready, and carry the cautions", () => {
    const a = ration({
      ...mixed,
      plans: [{ from: start, dietId: "formula", gPerFeed: 50, feedTimes: ["06:00", "12:00"] }],
    });
    const sheet = daySheet([a, { ...a, animalId: "P2" }], a.feedingDay).value;
    expect(sum(sheet.kitchen.map((k) => k.g))).toBe(2 * a.totalG!);
    expect(sheet.cautions.map((n) => noticeText(n)).join(" ")).toMatch(
      /as they were ordered.*attending veterinarian decides/,
    );
    expect(sheet.animals[0]!.rows[0]).toMatchObject({ time: "06:00", amount: "50 g", by: null });
    expect(daySheet([a], "2025-01-01").basis.leftOut[0]?.count).toBe(1);
  });

  it("size the batch for the next twelve hours to the gram", () => {
    const r = ration();
    const [need] = batchSize([r], { from: r.feeds[0]!.at }).value;
    // Six of twelve feeds of 50 g, and 5 %.
    expect(need).toEqual({ dietId: "formula", fedG: 300, batchG: 315, feeds: 6, animals: ["P1"] });
    expect(batchSize([r], { from: r.feeds[0]!.at, hours: 24, sparePct: 0 }).value[0]?.batchG).toBe(
      600,
    );
    expect(() => batchSize([r], { from: at, hours: 0 })).toThrow(/hours above zero/);
  });

  it("spread feeds in real time over the night on which the clock changes", () => {
    const zone = "America/St_Johns";
    const then = Date.UTC(2025, 2, 7, 20);
    const parts = well();
    const shift = then - at;
    const moved = {
      weighings: parts.weighings.map(([t, g]) => [t + shift, g] as const),
      feeds: parts.feeds.map((f) => ({ ...f, at: f.at + shift })),
      observations: parts.observations.map((o) => ({ ...o, at: o.at + shift })),
      animal: {
        birthDateEarliest: "2025-02-20",
        birthDateLatest: "2025-02-20",
        admittedAt: then - 9 * day,
      },
      settings: { zone },
    };
    const r = planRation(smallSeries(moved), { settings: { ...settings, zone }, at: then }).value;
    // The feeding day of 8 March begins at 06:00 and has 23 hours: eleven feeds of two hours.
    expect(r.feedingDay).toBe("2025-03-08");
    expect(r.feeds).toHaveLength(11);
    const gaps = r.feeds.slice(1).map((f, i) => (f.at - r.feeds[i]!.at) / hour);
    expect(Math.min(...gaps)).toBeGreaterThan(1.9);
    expect(Math.max(...gaps)).toBeLessThan(2.2);
  });

  it("know clam", () => {
    expect(clam.kind).toBe("solid");
  });
});
