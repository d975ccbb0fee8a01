import { describe, expect, it } from "vitest";
import { noticeText } from "../../src/core/catalogue.js";
import { type HoldOptions, holdRules } from "../../src/rates/hold-rules.js";
import { day, hour, settings, smallSeries, start } from "./small-study.js";

const at = start + 5 * day;
const well = {
  weighings: [[at - 2 * hour, 2100] as const],
  observations: [
    { at: at - 3 * hour, kind: "temperature", value: 37.8, unit: "degC" },
    { at: at - 5 * hour, kind: "stool", valueText: "formed" },
    { at: at - 4 * hour, kind: "urine", valueText: "clear" },
  ],
};
const without = (kind: string) => well.observations.filter((o) => o.kind !== kind);
const rulesOf = (parts: object, more: Partial<HoldOptions> = {}) =>
  holdRules(smallSeries({ ...well, ...parts }), { at, settings, ...more }).value.reasons.map(
    (r) => r.rule,
  );

describe("hold rules", () => {
  it("let a well recorded animal through", () => {
    const { value } = holdRules(smallSeries(well), { at, settings });
    expect(value).toMatchObject({ hold: false, reasons: [] });
  });

  it("hold in the first 72 h without an entered plan", () => {
    const animal = { admittedAt: at - 71 * hour };
    expect(rulesOf({ animal })).toEqual(["recent admission without a plan"]);
    const plans = [{ from: at - day, gPerFeed: 40 }];
    expect(rulesOf({ animal, plans })).toEqual([]);
    expect(
      rulesOf({ animal, plans: [{ from: at - 2 * day, to: at - hour, gPerFeed: 40 }] }),
    ).toHaveLength(1);
    expect(rulesOf({ animal: { admittedAt: at - 73 * hour } })).toEqual([]);
  });

  it.each([
    [37.4, "degC"],
    [38.2, "degC"],
    [101, "degF"],
  ])(
    "hold at %f %s (normal in young sea otters 37.5 to 38.1 degC: Williams & Kocher 1978)",
    (value, unit) => {
      const temperature = { at: at - hour, kind: "temperature", value, unit };
      expect(rulesOf({ observations: [...well.observations, temperature] })).toEqual([
        "temperature outside the range",
      ]);
    },
  );

  it("hold at a temperature whose unit is not known, and show what was written", () => {
    const temperature = { at: at - hour, kind: "temperature", value: 37.8, unit: "K" };
    const parts = { ...well, observations: [...well.observations, temperature] };
    const { reasons } = holdRules(smallSeries(parts), { at, settings }).value;
    expect(reasons.map((r) => r.rule)).toEqual(["temperature in doubt"]);
    expect(noticeText(reasons[0]!.notice)).toMatch(/"37.8 K", could not be read: look/);
  });

  it("keep an earlier cold reading where a later one cannot be read", () => {
    const cold = { at: at - 2 * hour, kind: "temperature", valueText: "34.9C" };
    const later = { at: at - hour, kind: "temperature", valueText: "see sheet" };
    expect(rulesOf({ observations: [...well.observations, cold, later] })).toEqual([
      "temperature outside the range",
      "temperature in doubt",
    ]);
  });

  it("read degF", () => {
    const temperature = { at: at - hour, kind: "temperature", value: 100.2, unit: "degF" };
    expect(rulesOf({ observations: [...without("temperature"), temperature] })).toEqual([]);
  });

  it("hold on a missing or old temperature only in the very young, and in those of unknown age", () => {
    const observations = without("temperature");
    expect(rulesOf({ observations })).toEqual(["temperature missing or old"]);
    const old = [...observations, { at: at - 13 * hour, kind: "temperature", value: 37.8 }];
    expect(rulesOf({ observations: old })).toEqual(["temperature missing or old"]);
    const animal = { birthDateEarliest: "2025-03-01", birthDateLatest: "2025-03-01" };
    expect(rulesOf({ observations, animal })).toEqual([]);
    const ageless = { birthDateEarliest: null, birthDateLatest: null, birthDateBasis: "unknown" };
    expect(rulesOf({ observations, animal: ageless })).toEqual(["temperature missing or old"]);
  });

  it("cannot judge a temperature without a range, and holds", () => {
    expect(rulesOf({ species: "walrus" })).toEqual(["temperature outside the range"]);
    const speciesOverrides = { walrus: { bodyTemperature: [36, 38] } };
    expect(rulesOf({ species: "walrus" }, { settings: { speciesOverrides } })).toEqual([]);
  });

  it.each(["vomit", "regurgitation", "bloat"])("hold after %s", (kind) => {
    const seen = { at: at - 10 * hour, kind, valueText: "seen" };
    expect(rulesOf({ observations: [...well.observations, seen] })).toEqual([
      "vomit, regurgitation or bloat",
      ...(kind === "bloat" ? ["danger sign"] : []),
    ]);
    const none = { ...seen, valueText: "none" };
    expect(rulesOf({ observations: [...well.observations, none] })).toEqual([]);
    const before = { ...seen, at: at - 30 * hour };
    expect(rulesOf({ observations: [...well.observations, before] })).toEqual([]);
  });

  it.each([
    ["behaviour", "lethargic, not suckling"],
    ["behaviour", "cannot be roused"],
    ["suckle", "none"],
    ["convulsion", "once"],
    ["note", "found unresponsive at 06:00"],
    ["vomit", "2x"],
    ["bloat", "tight"],
  ])("hold on a danger that forbids feeding: %s %s", (kind, valueText) => {
    const seen = { at: at - 10 * hour, kind, valueText };
    expect(rulesOf({ observations: [...well.observations, seen] })).toContain("danger sign");
    const before = { ...seen, at: at - 25 * hour };
    expect(rulesOf({ observations: [...well.observations, before] })).toEqual([]);
  });

  it.each(["stool", "urine"])("hold without %s; 'none' is not one", (kind) => {
    expect(rulesOf({ observations: without(kind) })).toEqual([`no ${kind}`]);
    const none = { at: at - hour, kind, valueText: "none" };
    expect(rulesOf({ observations: [...without(kind), none] })).toEqual([`no ${kind}`]);
    expect(
      rulesOf({ observations: without(kind) }, { limits: { stoolH: null, urineH: null } }),
    ).toEqual([]);
  });

  it("hold without a weighing within 36 h", () => {
    expect(rulesOf({ weighings: [[at - 37 * hour, 2100]] })).toEqual(["no recent weighing"]);
    expect(rulesOf({ weighings: [] })).toEqual(["no recent weighing"]);
  });

  it("hold while the last mass is under suspicion of a slip", () => {
    const series = smallSeries({
      ...well,
      weighings: [
        [at - 8 * hour, 2100],
        [at - 2 * hour, 21000],
      ],
    });
    const suspected = {
      ...series,
      weighings: series.weighings.map((w, i) =>
        i === 1 ? { ...w, standing: "suspected slip" as const } : w,
      ),
    };
    const { value } = holdRules(suspected, { at, settings });
    expect(value.reasons.map((r) => r.rule)).toEqual(["mass under suspicion"]);
    expect(noticeText(value.reasons[0]!.notice)).toContain("21000 g");
  });

  it("look at nothing after the instant judged", () => {
    const later = { at: at + hour, kind: "vomit", valueText: "seen" };
    expect(rulesOf({ observations: [...well.observations, later] })).toEqual([]);
  });
});
