import { describe, expect, it } from "vitest";
import { protocolSeasons } from "../../src/seasons/protocol-seasons.js";
import { seasonCurves } from "../../src/seasons/season-curves.js";
import { type MadeAnimal, madeStudy } from "./made-study.js";

const window = { fromAgeD: 21, toAgeD: 84 };
const season = (name: string, gain: number): MadeAnimal[] =>
  Array.from({ length: 6 }, (_, i) => ({
    id: `${name}-${i}`,
    season: name,
    gain: gain + (i - 2.5),
    arrivalMassG: 1800,
    arrivalAgeD: 5,
    sex: i % 2 ? ("male" as const) : ("female" as const),
    noiseG: 10,
  }));

describe("season curves", () => {
  const study = madeStudy([...season("2031", 40), ...season("2032", 50)]);
  const { value } = seasonCurves(study, { species: "sea otter", window });

  it("follow the masses put in", () => {
    expect(value.status).toBe("converged");
    for (const curve of value.curves) {
      const gain = curve.season === "2031" ? 40 : 50;
      for (const p of curve.points) {
        const truth = 1800 + gain * (p.ageD - 5);
        expect(Math.abs(p.massG / truth - 1)).toBeLessThan(0.02);
        expect(p.interval.lower).toBeLessThan(p.massG);
        expect(p.interval.upper).toBeGreaterThan(p.massG);
      }
    }
  });

  it("part as the gains put in make them part", () => {
    const points = value.differences[0]!.points;
    for (const p of points) {
      const truth = 100 * ((1800 + 50 * (p.ageD - 5)) / (1800 + 40 * (p.ageD - 5)) - 1);
      expect(Math.abs(p.percent - truth)).toBeLessThan(1.5);
      expect(p.interval.lower).toBeLessThan(truth);
      expect(p.interval.upper).toBeGreaterThan(truth);
    }
    expect(points.at(-1)!.percent).toBeGreaterThan(points[0]!.percent);
  });

  it("are empty, not a crash, with too few animals", () => {
    const few = seasonCurves(madeStudy(season("2031", 40).slice(0, 2)), {
      species: "sea otter",
      window,
    });
    expect(few.value.curves).toEqual([]);
    expect(few.value.status).toBe("failed");
  });
});

describe("seasons under another protocol", () => {
  const base = madeStudy([
    ...season("2031", 40).map((a) => ({ ...a, birthAt: Date.UTC(2031, 3, 1) })),
    ...season("2032", 40).map((a) => ({ ...a, birthAt: Date.UTC(2032, 3, 1) })),
  ]);
  const event = (at: number, kind: "protocol change" | "staff") => ({
    at,
    to: null,
    scope: "season" as const,
    kind,
    notes: "another formula",
    origin: { file: "events.csv", line: 2 },
  });

  it("are found between the first arrivals of two seasons", () => {
    const study = { ...base, events: [event(Date.UTC(2032, 0, 9), "protocol change")] };
    expect(protocolSeasons(study, "sea otter")).toEqual([
      { season: "2032", what: "9 Jan 2032: another formula" },
    ]);
  });

  it("are none where the note names only another species", () => {
    const named = (notes: string) => ({
      ...base,
      events: [{ ...event(Date.UTC(2032, 0, 9), "protocol change"), notes }],
    });
    expect(protocolSeasons(named("seals: another fish"), "sea otter")).toEqual([]);
    expect(protocolSeasons(named("otters and seals: another shift"), "sea otter")).toHaveLength(1);
  });

  it("are none for other events, for the first season, and inside a season", () => {
    const study = {
      ...base,
      events: [
        event(Date.UTC(2032, 0, 9), "staff"),
        event(Date.UTC(2031, 0, 9), "protocol change"),
        event(Date.UTC(2032, 8, 9), "protocol change"),
      ],
    };
    expect(protocolSeasons(study, "sea otter")).toEqual([]);
  });
});
