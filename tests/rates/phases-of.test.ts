import { describe, expect, it } from "vitest";
import type { IntakeDay } from "../../src/rates/intake-by-day.js";
import { type Phase, phaseAt, phasesOf } from "../../src/rates/phases-of.js";
import {
  dailyMasses,
  day,
  feedsEvery,
  type SmallStudy,
  settings,
  smallSeries,
  start,
} from "./small-study.js";

/** Days of care of an invented pup; where few masses are near one another each stands for itself. */
const on = (d: number) => start + d * day;
const of = (parts: SmallStudy, more: Partial<Parameters<typeof phasesOf>[1]> = {}) =>
  phasesOf(smallSeries(parts), { settings, ...more });
const days = (at: number | null) => (at === null ? null : (at - start) / day);
const told = (...a: Parameters<typeof of>) =>
  of(...a).value.phases.map((p) => [p.phase, days(p.from), days(p.to)]);
const why = (phase: Phase["phase"], ...a: Parameters<typeof of>) =>
  of(...a).value.phases.find((p) => p.phase === phase)!.why;
const weighed = (...masses: readonly (readonly [number, number])[]) =>
  masses.map(([d, g]) => [on(d), g] as const);
const solid = (d: number, more: object = {}) => ({ at: on(d), dietId: "clam", ...more });
const fed = (d: number) => ({ at: on(d) });
/** Fed until day 20, so that it has records until then. */
const until20: SmallStudy = { weighings: weighed([0, 2000], [5, 2000]), feeds: [fed(0), fed(20)] };

describe("arrival", () => {
  it("ends when the mass of admission is regained, on the seventh day at the latest", () => {
    expect(told(until20)).toEqual([
      ["arrival", 0, 5],
      ["milk", 5, null],
    ]);
    const parts = (...masses: readonly (readonly [number, number])[]) => ({
      ...until20,
      weighings: weighed(...masses),
    });
    const end = (...masses: readonly (readonly [number, number])[]) =>
      told(parts(...masses))[0]![2];
    expect([
      end([0, 2000], [5, 1999]),
      end([0, 2000], [7, 2000]),
      end([0, 2000], [7.01, 2100]),
    ]).toEqual([7, 7, 7]);
    expect([end(), end([8, 2000], [9, 2100]), end([1, 2000], [2, 1990], [14, 2100])]).toEqual([
      7, 7, 7,
    ]);
    expect(why("milk", until20)).toMatchObject({
      code: "phase-milk-regained",
      level: "info",
      parameters: { admission: 2000, smooth: 2000 },
    });
    expect(why("milk", parts([0, 2000], [7, 2000])).code).toBe("phase-milk-regained");
    expect(why("milk", parts([0, 2000], [7.01, 2100]))).toMatchObject({
      code: "phase-milk-latest",
      level: "info",
      parameters: { days: 7 },
    });
    expect(told(parts(), { longestArrivalD: 3 })[0]).toEqual(["arrival", 0, 3]);
    expect(why("arrival", until20)).toMatchObject({ code: "phase-arrival", level: "info" });
  });

  it("begins with admission, else with the first record; without any there is no phase", () => {
    expect(told({ ...until20, animal: { admittedAt: on(2) } })[0]).toEqual(["arrival", 2, 5]);
    expect(told({ ...until20, animal: { admittedAt: null } })[0]).toEqual(["arrival", 0, 5]);
    expect(told({ animal: { admittedAt: null } })).toEqual([]);
    // What was weighed before it came says nothing of the time in care.
    expect(told({ ...until20, animal: { admittedAt: on(9) } })).toEqual([["milk", 9, null]]);
    expect(told(until20, { endAt: on(-1) })).toEqual([]);
    expect(told({ ...until20, animal: { admittedAt: on(20) } })).toHaveLength(1);
  });
});

describe("a species without a profile", () => {
  const template = (parts: SmallStudy) => told({ ...until20, ...parts, species: "grebbit" });
  const fish = [solid(1, { offeredG: 0 }), solid(20, { offeredG: 0 })];

  it("is on milk only where formula was fed to it", () => {
    expect(template({ weighings: [] })).toEqual([["milk", 0, null]]);
    const after = { species: "grebbit", weighings: [], feeds: fish };
    expect(template(after)).toEqual([["after arrival", 0, null]]);
    expect(why("after arrival", after)).toMatchObject({
      code: "phase-after-arrival",
      level: "info",
      parameters: { species: "grebbit" },
    });
  });

  it("arrives only where it weighed less after it came", () => {
    const with_ = (...masses: readonly (readonly [number, number])[]) =>
      template({ weighings: weighed(...masses) });
    expect(with_([0, 2000], [3, 1999])).toEqual([
      ["arrival", 0, 7],
      ["milk", 7, null],
    ]);
    expect(with_([0, 2000], [3, 2000])).toEqual([["milk", 0, null]]);
    expect(with_([0, 2000], [7, 1999])[0]![0]).toBe("arrival");
    expect(with_([0, 2000], [7.1, 1999])[0]![0]).toBe("milk");
    expect(template({ weighings: weighed([0, 2000], [3, 1999]), feeds: fish })[1]).toEqual([
      "after arrival",
      7,
      null,
    ]);
  });
});

describe("the mixed phase", () => {
  it("begins with the first solid eaten, not before arrival ends", () => {
    const with_ = (...solids: readonly object[]) =>
      told({ ...until20, feeds: [...until20.feeds!, ...solids] as SmallStudy["feeds"] & object });
    expect(with_(solid(10), solid(12))).toEqual([
      ["arrival", 0, 5],
      ["milk", 5, 10],
      ["mixed", 10, null],
    ]);
    // Milk then has no length.
    expect(with_(solid(3))).toEqual([
      ["arrival", 0, 5],
      ["mixed", 5, null],
    ]);
    // What was refused was not eaten, and what may have been is not sure.
    expect(with_(solid(10, { refusedG: 50 }), solid(12))[2]).toEqual(["mixed", 12, null]);
    expect(with_(solid(10, { refusedG: null }))).toHaveLength(2);
    expect(why("mixed", { ...until20, feeds: [...until20.feeds!, solid(3)] })).toMatchObject({
      code: "phase-mixed",
      level: "info",
      parameters: { at: on(3) },
    });
  });

  it("ends after three feeding days in a row of solids alone, days without food apart", () => {
    const bounds = (low: number) => ({ low, high: 100, value: null });
    const intake = (...shares: readonly (number | null)[]) =>
      shares.map(
        (low, i) =>
          ({
            from: on(10 + i),
            to: on(11 + i),
            feeds: 8,
            solidsEnergyPct: low === null ? null : bounds(low),
            solidsMassPct: null,
            solidsG: bounds(10),
          }) as unknown as IntakeDay,
      );
    const parts = { ...until20, feeds: [...until20.feeds!, solid(10)] };
    const solids = (list: readonly IntakeDay[], more: object = {}) =>
      told(parts, { intake: list, ...more }).find(([phase]) => phase === "solids")?.[1];
    expect(solids(intake(95, 95, 95))).toBe(13);
    expect(solids(intake(95, 95, 94, 95, 95, 95, 95))).toBe(16);
    expect(solids(intake(95, 95))).toBeUndefined();
    expect(solids(intake(95, null, 95, 95))).toBe(14);
    expect(solids(intake(95, 95), { solidsOnlyDays: 2 })).toBe(12);
    expect(solids(intake(90, 90, 89.9, 90, 90, 90), { solidsOnlyPct: 90 })).toBe(16);
    // By mass where the energy is not known; not a day on which none may have been eaten.
    const byMass = intake(95, 95, 95).map((d) => ({
      ...d,
      solidsEnergyPct: null,
      solidsMassPct: bounds(95),
    })) as unknown as IntakeDay[];
    expect(solids(byMass)).toBe(13);
    const unsure = intake(95, 95, 95, 95).map((d, i) =>
      i === 1 ? { ...d, solidsG: bounds(0) } : d,
    );
    expect(solids(unsure)).toBeUndefined();
    expect(why("solids", parts, { intake: intake(95, 95, 95) })).toMatchObject({
      code: "phase-solids",
      level: "info",
      parameters: { days: 3, pct: 95 },
    });
    // Before arrival ends there is no other phase; without a solid eaten there are no solids.
    const early = intake(95, 95, 95).map((d) => ({ ...d, to: d.to - 9 * day }));
    const first = { ...until20, feeds: [solid(1), fed(20)] };
    expect(told(first, { intake: early })).toEqual([
      ["arrival", 0, 5],
      ["solids", 5, null],
    ]);
    expect(told(until20, { intake: intake(95, 95, 95) })).toHaveLength(2);
    // Days that begin later than what is asked about count for nothing.
    expect(told(parts, { intake: intake(95, 95, 95), endAt: on(12) }).at(-1)).toEqual([
      "mixed",
      10,
      null,
    ]);
    expect(of(parts, { intake: intake(95, 95, 95), endAt: on(11) }).basis.used).toBe(2);
  });
});

describe("what was known at an instant", () => {
  const parts = { ...until20, feeds: [...until20.feeds!, solid(10)] };
  it("has phases begun by then, the last one open", () => {
    expect(told(parts, { endAt: on(5) })).toEqual([
      ["arrival", 0, 5],
      ["milk", 5, null],
    ]);
    expect(told(parts, { endAt: on(4.9) })).toEqual([["arrival", 0, null]]);
    expect(told(parts, { endAt: on(9) }).at(-1)).toEqual(["milk", 5, null]);
    expect(told(parts, { endAt: on(10) }).at(-1)).toEqual(["mixed", 10, null]);
    expect(told(parts, { endAt: on(-1) })).toEqual([]);
  });

  it("is asked phase by phase, from its begin to just before its end", () => {
    const { phases } = of(parts).value;
    const name = (d: number) => phaseAt(phases, on(d))?.phase ?? null;
    expect([name(-0.01), name(0), name(4.99), name(5), name(10), name(99)]).toEqual([
      null,
      "arrival",
      "arrival",
      "milk",
      "mixed",
      "mixed",
    ]);
  });

  it("comes with how it was found", () => {
    const r = of(parts, { endAt: on(9), solidsOnlyDays: 4 });
    expect(r).toMatchObject({
      kind: "phases-of",
      method: {
        options: {
          longestArrivalD: 7,
          solidsOnlyPct: 95,
          solidsOnlyDays: 4,
          endAt: on(9),
          species: "sea otter",
        },
        citations: [],
      },
      basis: { leftOut: [], of: "feeding days" },
      notices: [],
    });
  });
});

describe("the fast after weaning", () => {
  /** A harbour seal on fish, named as fasting on day 12, and eating again where that is told. */
  const seal = (again: number | null, solidFrom = 8): SmallStudy => ({
    species: "harbour seal",
    animal: { birthDateEarliest: "2025-04-08", birthDateLatest: "2025-04-08" },
    weighings: dailyMasses(20, (d) => 9000 + 10 * d),
    feeds: [
      ...feedsEvery(4, on(0), on(solidFrom)),
      ...feedsEvery(4, on(solidFrom), on(20), { dietId: "clam", offeredG: 100 }).map((f) => ({
        ...f,
        refusedG: f.at >= on(12) && f.at < on(again ?? 99) ? 99 : 0,
      })),
    ],
  });

  it("cuts the phase in which it lies, and what comes after goes on", () => {
    const phases = told(seal(16));
    expect(phases.slice(-3)).toEqual([
      ["solids", 11, 12],
      ["post-weaning fast", 12, 16],
      ["solids", 16, null],
    ]);
    expect(told(seal(null)).slice(-2)).toEqual([
      ["solids", 11, 12],
      ["post-weaning fast", 12, null],
    ]);
    // A phase that ends in it is cut; one that lies wholly in it is none.
    expect(
      told(seal(16, 10))
        .map(([phase, from]) => [phase, from])
        .slice(-3),
    ).toEqual([
      ["mixed", 10],
      ["post-weaning fast", 12],
      ["solids", 16],
    ]);
  });

  it("is of species that have one", () => {
    expect(told({ ...seal(16), species: "sea otter" }).map(([phase]) => phase)).not.toContain(
      "post-weaning fast",
    );
  });
});

describe("a moult", () => {
  const seen = (...lines: readonly (readonly [number, string, string?])[]) =>
    of({
      ...until20,
      observations: lines.map(([d, valueText, kind = "milestone"]) => ({
        at: on(d),
        kind,
        valueText,
      })),
    }).value.moult;

  it("lies between the milestones that name its begin and its end", () => {
    expect(seen([3, "moult begins"], [9, "moult complete"])).toEqual({ from: on(3), to: on(9) });
    expect(seen([3, "started to molt"], [9, "new pelage complete"])).toEqual({
      from: on(3),
      to: on(9),
    });
    expect(seen([3, "moult begins"], [9, "fur ended"], [12, "coat complete"])!.to).toBe(on(9));
    expect(seen([3, "Moult begins"], [9, "weaned"])).toEqual({ from: on(3), to: null });
  });

  it("has no end before its begin, and is none where it is not said to begin", () => {
    expect(seen([2, "moult complete"], [3, "moult begins"])).toEqual({ from: on(3), to: null });
    expect([seen(), seen([3, "moult complete"]), seen([3, "weaned"])]).toEqual([null, null, null]);
    expect(seen([3, "moult begins", "note"])).toBeNull();
    expect(seen([3, "no moult yet"])).toBeNull();
    expect(seen([3, "moult begins"], [9, "moult not complete"])!.to).toBeNull();
    expect(seen([3, "moult begins"], [9, "training complete"])!.to).toBeNull();
  });
});
