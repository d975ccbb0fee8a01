import { describe, expect, it } from "vitest";
import { askDay } from "../../src/analysis/ask-day.js";
import { massBandOn } from "../../src/flags/rules/mass-band-signal.js";
import { parseStudy } from "../../src/records/parse-study.js";

/** An invented animal in long-term care, weighed every week of a year, and a band of invented numbers. */
const band = {
  set_by: "the veterinarian",
  band: [
    { on: "01-01", low_g: 20000, high_g: 22000 },
    { on: "07-01", low_g: 24000, high_g: 26000 },
  ],
};

const dayOf = (n: number) => new Date(Date.UTC(2030, 0, 1 + n)).toISOString().slice(0, 10);

function studyOf(mass: (day: number) => number, bands: object = { L1: band }) {
  const files = {
    "study.json": JSON.stringify({
      title: "t",
      zone: "UTC",
      species: "sea otter",
      blank_tare_is_zero: true,
      mass_bands: bands,
    }),
    "animals.csv":
      "animal_id,species,birth_date_earliest,birth_date_latest,birth_date_basis,admitted_at,outcome\nL1,sea otter,2025-01-01,2025-01-01,observed,2026-01-01 08:00,long-term care\n",
    "weighings.csv": `animal_id,at,mass_g,tare_g\n${Array.from({ length: 52 }, (_, w) => `L1,${dayOf(7 * w)} 09:00,${Math.round(mass(7 * w))},0`).join("\n")}\n`,
  };
  return parseStudy(
    Object.entries(files).map(([path, text]) => ({ path, bytes: new TextEncoder().encode(text) })),
  );
}

const signal = async (study: ReturnType<typeof studyOf>, onDay: string) => {
  const { value } = await askDay(study, { onDay });
  const day = value.analysis.value.animals[0]?.day;
  return [...(day?.raised ?? []), ...(day?.within ?? [])].find(
    (s) => s.kind === "outside mass band",
  );
};

describe("a band of mass over the year", () => {
  it("runs straight from one day to the next, and over the turn of the year (by hand)", () => {
    const points = band.band.map((p) => ({ on: p.on, lowG: p.low_g, highG: p.high_g }));
    const on = (day: string) => massBandOn({ setBy: null, points }, day);
    expect(on("2030-01-01")).toEqual({ lowG: 20000, highG: 22000 });
    // 1 January to 1 July 2030 are 181 days: a day before the middle, 90 of 181.
    expect(on("2030-04-01").lowG).toBeCloseTo(20000 + (4000 * 90) / 181, 6);
    // 1 July to 1 January are 184 days: 92 of them to 1 October.
    expect(on("2030-10-01").lowG).toBeCloseTo(22000, 6);
  });

  it("asks for a second look where mass drifts out of it, on either side, and not within", async () => {
    const steady = await signal(
      studyOf(() => 23000),
      "2030-04-10",
    );
    expect(steady?.raised).toBe(false);
    const behind = await signal(
      studyOf(() => 21000),
      "2030-07-03",
    );
    expect([behind?.raised, behind?.direction, behind?.threshold]).toEqual([
      true,
      "low",
      24000 - (4000 * 2) / 184,
    ]);
    const above = await signal(
      studyOf(() => 23500),
      "2030-01-30",
    );
    expect([above?.raised, above?.direction]).toEqual([true, "high"]);
  });

  it("takes the place of the rule of no gain for its animal alone", async () => {
    const kinds = async (bands: object) => {
      const { value } = await askDay(
        studyOf(() => 23000, bands),
        { onDay: "2030-04-10" },
      );
      const day = value.analysis.value.animals[0]!.day!;
      return [...day.raised, ...day.within, ...day.notJudged].map((s) => s.kind);
    };
    expect(await kinds({ L1: band })).not.toContain("no gain");
    expect(await kinds({})).toContain("no gain");
    expect(await kinds({})).not.toContain("outside mass band");
  });

  it("is refused where low stands above high", () => {
    const wrong = { L1: { band: [{ on: "01-01", low_g: 3, high_g: 2 }] } };
    expect(() => studyOf(() => 1, wrong)).toThrow(/low_g must be below/);
  });
});
