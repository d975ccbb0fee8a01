import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { noticeText } from "../../src/core/catalogue.js";
import { profileRows } from "../../src/report/feeding/profile-rows.js";
import { bandAt } from "../../src/species/age-band.js";
import { plausibleMass } from "../../src/species/plausible-mass.js";
import { knownSpecies, profileOf } from "../../src/species/profile-of.js";

const sure = [
  ...["read", "textbook", "memory", "common practice", "own choice"],
  ...["computed at an assumed mass", "entered"],
];

/** Every object in a profile that carries numbers. */
function entriesOf(x: unknown): Record<string, unknown>[] {
  if (typeof x !== "object" || x === null) return [];
  const own = x as Record<string, unknown>;
  const here = "range" in own || "value" in own ? [own] : [];
  return [...here, ...Object.values(own).flatMap(entriesOf)];
}

describe("species profiles", () => {
  it.each(knownSpecies())("give unit, source and how sure for every number of the %s", (name) => {
    const entries = entriesOf(profileOf(name));
    expect(entries.length).toBeGreaterThan(15);
    for (const e of entries) {
      expect(e["unit"]).toMatch(/\S/);
      expect(e["source"]).toMatch(/\S/);
      expect(sure).toContain(e["sure"]);
      if ("range" in e) {
        const [low, high] = e["range"] as [number, number];
        expect(low).toBeLessThanOrEqual(high);
      } else expect(Number.isFinite(e["value"])).toBe(true);
    }
  });

  it.each(knownSpecies())("cover all ages of the %s with bands that do not overlap", (name) => {
    const p = profileOf(name);
    for (const bands of [p.plausibleMass, p.feedingRhythm]) {
      expect(bands[0]?.fromD).toBe(0);
      bands.forEach((b, i) => {
        expect(b.toD).toBe(bands[i + 1]?.fromD ?? null);
      });
      for (const age of [-0.4, 0, 29.9, 30, 90, 500])
        expect(bandAt<(typeof bands)[number]>(bands, age)).not.toBeNull();
    }
  });

  it("give intake for the ages of the animals it was read of, and for no others", () => {
    const otter = profileOf("sea otter").intake;
    otter.forEach((b, i) => {
      expect(b.toD).toBe(otter[i + 1]?.fromD ?? 240);
    });
    // 2.0 kg/d at 10.9 kg and 2.5 kg/d at 12 kg (statements of aquaria), by hand.
    expect(bandAt(otter, 150)?.share.range).toEqual([18.3, 20.8]);
    expect((100 * 2) / 10.9).toBeCloseTo(18.3, 1);
    expect((100 * 2.5) / 12).toBeCloseTo(20.8, 1);
    expect(bandAt(otter, 500)).toBeNull();
  });

  it("leave a seal room for growth above what its source gives as rest alone", () => {
    const times = bandAt(profileOf("harbour seal").energyDemand, 20)!.timesResting;
    // At 9 kg: 2.6 x 70 W^0.75 at rest (Miller & Irving 1975) is 946 kcal/d; 123 g/d (MacRae et
    // al. 2011) at 16.3 kJ/g (Muelbert & Bowen 1993) is 479 kcal/d; together 3.92 x.
    const resting = 70 * 9 ** 0.75;
    const needed = 2.6 + (123 * 16.3) / 4.184 / resting;
    expect(times.range[0]).toBeCloseTo(needed, 1);
    expect(times.sure).toBe("computed at an assumed mass");
  });

  // Figures as read in the sources named in the profile itself.
  it("hold the figures of their sources", () => {
    const otter = profileOf("sea otter");
    expect(otter.birthMass?.range).toEqual([1000, 2300]);
    expect(otter.bodyTemperature?.range).toEqual([37.5, 38.1]);
    expect(bandAt(otter.intake, 10)?.share.range[0]).toBe(30);
    // Common practice: the youngest are fed every two to three hours, day and night.
    expect(bandAt(otter.feedingRhythm, 10)?.everyH).toMatchObject({
      range: [2, 3],
      sure: "common practice",
    });
    const seal = profileOf("Harbor  Seal");
    expect(seal.species).toBe("harbour seal");
    expect(seal.postWeaningFast?.range).toEqual([15, 17]);
    expect(bandAt(seal.feedingRhythm, 10)?.everyH.range[0]).toBeGreaterThan(
      bandAt(otter.feedingRhythm, 10)!.everyH.range[1],
    );
  });

  it("never invent a limit that no source gives", () => {
    for (const name of [...knownSpecies(), "walrus"]) expect(profileOf(name).feedLimit).toBeNull();
  });

  it("judge a mass in two steps", () => {
    const otter = profileOf("sea otter");
    const at10 = plausibleMass(otter, 10)!;
    const slipTimesTen = 18500;
    const slipKilograms = 1.85;
    expect(slipTimesTen).toBeGreaterThan(at10.impossible[1]);
    expect(slipKilograms).toBeLessThan(at10.impossible[0]);
    expect(at10.unusual).toEqual([1000, 7000]);
    // 1.8 kg growing 1 %/d (statement of an aquarium, 2012) is never unusual.
    for (let d = 0; d <= 180; d += 5) {
      const mass = 1800 * Math.exp(0.01 * d);
      const { unusual } = plausibleMass(otter, d)!;
      expect(mass).toBeGreaterThan(unusual[0]);
      expect(mass).toBeLessThan(unusual[1]);
    }
    const unknownAge = plausibleMass(otter, null)!;
    expect(unknownAge.unusual).toEqual([1000, 32000]);
    expect(plausibleMass(profileOf("walrus"), 3)).toBeNull();
  });

  it("give the empty template, with a notice, for a species without a profile", () => {
    const p = profileOf("walrus");
    expect(p.isTemplate).toBe(true);
    expect(p.species).toBe("walrus");
    expect(p.energyDemand).toEqual([]);
    expect(p.notices.map((n) => n.code)).toEqual(["species-unknown"]);
    expect(noticeText(p.notices[0]!)).toContain('"walrus"');
  });
});

describe("a user's own entries", () => {
  it("replace an entry, are marked as entered, and are reported", () => {
    const p = profileOf("sea otter", {
      "Sea Otter": {
        bodyTemperature: [37, 38.5],
        feedLimit: { value: 5, source: "our vet, 2024" },
      },
    });
    expect(p.bodyTemperature).toEqual({
      range: [37, 38.5],
      unit: "degC",
      source: "entered in study.json",
      sure: "entered",
    });
    expect(p.feedLimit?.source).toBe("our vet, 2024");
    expect(p.overridden.map((o) => o.entry)).toEqual(["bodyTemperature", "feedLimit"]);
    expect(p.overridden[0]?.before).toContain("37.5");
    expect(p.notices.map((n) => n.code)).toEqual(["species-overridden"]);
    expect(profileOf("harbour seal", { "sea otter": { feedLimit: 5 } }).feedLimit).toBeNull();
  });

  it("fill the template", () => {
    const p = profileOf("walrus", {
      walrus: {
        intake: [
          { fromD: 0, toD: 60, share: [8, 10] },
          { fromD: 60, share: 6 },
        ],
      },
    });
    expect(bandAt(p.intake, 90)?.share.range).toEqual([6, 6]);
    expect(p.notices.map((n) => n.code)).toEqual(["species-unknown", "species-overridden"]);
  });

  it.each([
    [{ bodyTemprature: [37, 38] }, "species-override-unknown-entry"],
    [{ bodyTemperature: [38, 37] }, "species-override-unreadable"],
    [{ bodyTemperature: "37-38" }, "species-override-unreadable"],
    [{ birthMass: { range: [2, 5], unit: "degF" } }, "species-override-unreadable"],
    [{ bodyTemperature: [97, 101] }, "species-override-fahrenheit"],
    [{ bodyTemperature: { range: [97, 101], unit: "degC" } }, "species-override-unreadable"],
    [{ formulaUseBy: null }, "species-override-unreadable"],
    [{ intake: [{ fromD: 30, toD: 10, share: 5 }] }, "species-override-unreadable"],
    [[1, 2], "species-override-not-entries"],
    [null, "species-override-not-entries"],
  ])("that cannot be used are named and ignored: %j", (entries, code) => {
    const p = profileOf("sea otter", { "sea otter": entries });
    expect(p.notices.map((n) => n.code)).toEqual([code]);
    expect({ ...p, notices: [] }).toEqual(profileOf("sea otter"));
  });

  it("are read in other units of the same kind, and by the names that study.json is written with", () => {
    const p = profileOf("walrus", {
      walrus: {
        body_temperature: { range: [97.7, 100.4], unit: "degF" },
        birth_mass: { range: [100, 150], unit: "lb" },
        intake: [{ from_d: 0, to_d: 60, share: 8 }],
      },
    });
    // 32 F is 0 C and 212 F is 100 C (definition): 97.7 F is 36.5 C, 100.4 F is 38 C.
    expect(p.bodyTemperature?.range).toEqual([36.5, 38]);
    expect(p.bodyTemperature?.unit).toBe("degC");
    // The avoirdupois pound is 453.59237 g.
    expect(p.birthMass?.range[0]).toBeCloseTo(45359.2, 1);
    expect(bandAt(p.intake, 30)?.share.range).toEqual([8, 8]);
  });

  it("of any shape never throw and never change another entry", () => {
    fc.assert(
      fc.property(fc.jsonValue(), (entries) => {
        const p = profileOf("sea otter", { "sea otter": entries });
        const touched = new Set(p.overridden.map((o) => o.entry));
        const own = profileOf("sea otter") as unknown as Record<string, unknown>;
        for (const [name, value] of Object.entries(p)) {
          if (touched.has(name) || name === "overridden" || name === "notices") continue;
          expect(value).toEqual(own[name]);
        }
      }),
      { seed: 20260101, numRuns: 300 },
    );
  });
});

describe("a profile as rows", () => {
  it("shows every number with source and how sure, the user's own, and what is not known", () => {
    const rows = profileRows(
      profileOf("sea otter", { "sea otter": { bodyTemperature: [37, 38.5] } }),
    );
    expect(rows.find((r) => r.entry === "body temperature")).toEqual({
      entry: "body temperature",
      age: "",
      low: 37,
      high: 38.5,
      unit: "°C",
      source: "entered in study.json",
      howSure: "entered",
    });
    expect(rows.find((r) => r.entry === "most that one feed may be")?.howSure).toBe("not known");
    const shown = rows.filter((r) => r.howSure !== "not known" && r.unit !== "o'clock");
    expect(shown).toHaveLength(entriesOf(profileOf("sea otter")).length);
    expect(rows.filter((r) => r.entry === "eaten a day")[0]).toMatchObject({
      age: "0 to 30 d",
      low: 30,
    });
    expect(profileRows(profileOf("harbour seal")).some((r) => r.entry === "fed between")).toBe(
      true,
    );
  });
});
