import { describe, expect, it } from "vitest";
import { parseStudy } from "../../src/records/parse-study.js";
import { priorAgesD } from "../../src/records/prior-ages.js";
import { type PopulationSummary, priorText, readPrior } from "../../src/records/prior-file.js";

const n = priorAgesD.length;
const matrix = (of: (i: number, j: number) => number) =>
  Array.from({ length: n * n }, (_, at) => of(Math.floor(at / n), at % n));
const summary: PopulationSummary = {
  animals: 12,
  seasons: 2,
  agesD: [...priorAgesD],
  information: matrix((i, j) => (i === j ? 4e6 : Math.abs(i - j) === 1 ? 1e6 : 0)),
  pulled: Array<number>(n).fill(60_000),
  variation: {
    noise: { logMean: -4.4, logSd: 0.2 },
    lasting: { mean: 0.4, sd: 0.2 },
    wander: { logMean: -2.3, logSd: 0.3 },
    spread: { logMean: -2.2, logSd: 0.3 },
  },
};

describe("a prior file", () => {
  it("is read as it was written, and holds neither rows nor names nor dates", () => {
    const text = priorText(summary, "sea otter");
    expect(readPrior(text, "a.json")).toEqual({ ...summary, species: "sea otter", file: "a.json" });
    expect(text).not.toMatch(/\d{4}-\d{2}-\d{2}/);
    expect(Object.keys(JSON.parse(text)).sort()).toEqual(
      [
        "about",
        "agesD",
        "animals",
        "information",
        "kind",
        "pulled",
        "schema",
        "seasons",
        "species",
        "variation",
      ].sort(),
    );
  });

  it("carries what a later arrival does to gain where it is told, and is read where it is not", () => {
    const arrival = { perDay: -0.0042, sd: 0.0031, animals: 11 };
    const told = priorText(summary, "sea otter", arrival);
    expect(readPrior(told, "a.json").arrival).toEqual(arrival);
    expect(readPrior(priorText(summary, "sea otter"), "a.json").arrival).toBeUndefined();
    // Of seven animals one could be recognised: the rest of the file stands without it.
    const few = priorText(summary, "sea otter", { ...arrival, animals: 7 });
    expect(readPrior(few, "a.json").arrival).toBeUndefined();
    for (const [name, wrong] of [
      ["perDay", 3],
      ["sd", 0],
      ["animals", 4],
    ] as const) {
      const raw = JSON.parse(told) as { arrival: Record<string, unknown> };
      raw.arrival[name] = wrong;
      expect(() => readPrior(JSON.stringify(raw), "bad.json")).toThrow(
        new RegExp(`bad\\.json.*arrival\\.${name}|arrival\\.${name}.*bad\\.json`, "s"),
      );
    }
  });

  it("is refused below eight animals, written or read", () => {
    expect(() => priorText({ ...summary, animals: 7 }, "sea otter")).toThrow(/at least 8 animals/);
    const few = priorText(summary, "sea otter").replace('"animals":12', '"animals":3');
    expect(() => readPrior(few, "few.json")).toThrow(/animals/);
  });

  it("is refused, with its name, where its numbers do not fit together", () => {
    const bad = (change: (raw: Record<string, unknown>) => void) => {
      const raw = JSON.parse(priorText(summary, "sea otter")) as Record<string, unknown>;
      change(raw);
      return () => readPrior(JSON.stringify(raw), "bad.json");
    };
    expect(bad((r) => (r["pulled"] = [1, 2]))).toThrow(/bad\.json/);
    expect(bad((r) => (r["information"] = Array(n * n).fill(-1)))).toThrow(/below zero/);
    expect(bad((r) => ((r["information"] as number[])[1] = 9e6))).toThrow(/symmetric/);
    // No information of a Gaussian: determinant 4 - 9 of the first two ages.
    const wild = matrix((i, j) => (i === j ? 2 : i + j === 1 ? 3 : 0));
    expect(bad((r) => (r["information"] = wild))).toThrow(/semidefinite/);
    expect(bad((r) => (r["agesD"] = priorAgesD.map((age) => age + 1)))).toThrow(/other ages/);
    expect(bad((r) => (r["pulled"] = Array(n).fill(1e300)))).toThrow(/pulled/);
    // A house that weighed no old young knows nothing of them.
    const young = matrix((i, j) => (i === j && i < 4 ? 4e6 : 0));
    expect(bad((r) => (r["information"] = young))).not.toThrow();
    expect(bad((r) => (r["kind"] = "another"))).toThrow(/kind/);
    expect(() => readPrior("{", "cut.json")).toThrow(/cut\.json/);
  });

  it("is named in study.json, and asked for where it is not there", () => {
    const encode = (text: string) => new TextEncoder().encode(text);
    const files = (prior: boolean) => [
      {
        path: "study.json",
        bytes: encode(
          '{ "title": "x", "species": "sea otter", "zone": "UTC", "priors": ["b.json"] }',
        ),
      },
      { path: "animals.csv", bytes: encode("animal_id,species\nA,sea otter\n") },
      {
        path: "weighings.csv",
        bytes: encode("animal_id,at,mass_g,tare_g\nA,2031-05-01 08:00,2000,0\n"),
      },
      ...(prior ? [{ path: "b.json", bytes: encode(priorText(summary, "sea otter")) }] : []),
    ];
    expect(parseStudy(files(true)).settings.priors?.[0]?.animals).toBe(12);
    expect(() => parseStudy(files(false))).toThrow(/prior file "b\.json"/);
  });
});
