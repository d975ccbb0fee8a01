import { beforeAll, describe, expect, it } from "vitest";
import { readStudy } from "../../src/records/files/read-study.js";
import type { Study } from "../../src/records/study.js";
import type { StudySeries } from "../../src/series/animal-series.js";
import { buildSeries } from "../../src/series/build-series.js";
import { demoFolder, demoTruth } from "./demo-files.js";

/** The demo study through the reader and the slip finder, against what its truth file says. */
const truth = demoTruth();
let study: Study;
let series: StudySeries;

beforeAll(async () => {
  study = await readStudy(demoFolder);
  series = buildSeries(study);
});

describe("the reader", () => {
  it("loses no row", () => {
    expect(study.counts).toHaveLength(11);
    for (const c of study.counts) expect(c.rowsIn).toBe(c.accepted + c.setAside);
  });

  it("sets aside exactly the rows that cannot be used, each with a reason and a suggestion", () => {
    const expected = truth.slips
      .filter((s) => s.expected === "set aside")
      .map((s) => `${s.file}:${s.line}`)
      .sort();
    expect(study.setAside.map((r) => `${r.file}:${r.line}`).sort()).toEqual(expected);
    for (const row of study.setAside) {
      expect(row.reason.code).not.toBe("");
      expect(row.suggestion.code).not.toBe("");
      expect(row.raw.length).toBeGreaterThan(3);
    }
  });
});

describe("the slip finder", () => {
  const suspected = () =>
    series.animals.flatMap((a) =>
      a.weighings.flatMap((w) =>
        w.slip === null
          ? []
          : [{ where: `${w.row.origin.file}:${w.row.origin.line}`, slip: w.slip, net: w.netG }],
      ),
    );

  it("suspects every slip among the weighings", () => {
    const found = new Set(suspected().map((s) => s.where));
    const missed = truth.slips.filter(
      (s) => s.expected === "suspected slip" && !found.has(`${s.file}:${s.line}`),
    );
    expect(missed).toEqual([]);
  });

  it("suspects hardly anything else in more than three thousand weighings", () => {
    const slips = new Set(truth.slips.map((s) => `${s.file}:${s.line}`));
    expect(suspected().filter((s) => !slips.has(s.where)).length).toBeLessThanOrEqual(5);
  });

  it("names kilograms for grams and the two exchanged animals, and suggests the true mass", () => {
    const by = new Map(suspected().map((s) => [s.where, s.slip]));
    for (const s of truth.slips) {
      const slip = by.get(`${s.file}:${s.line}`);
      if (s.kind === "thousandth") {
        expect(slip!.kind).toBe("thousandth");
        expect(slip!.suggestedG).toBeCloseTo(Number(s.trueValue), 6);
      }
      if (s.kind === "animals swapped") {
        expect(slip!.kind).toBe("animals swapped");
        expect(slip!.otherAnimalId).toBe(s.trueValue);
      }
    }
  });
});

describe("what the series say of the truth", () => {
  it("the feed with day and month exchanged shows by its batch, weeks older than any other", () => {
    const slip = truth.slips.find((s) => s.expected === "seen only by its old batch")!;
    const feeds = series.animals.flatMap((a) => a.feeds);
    const feed = feeds.find((f) => f.row.origin.line === slip.line)!;
    expect(feed.batchAgeH).toBeGreaterThan(24 * 14);
  });

  it("daily masses follow the true masses: the median error is below 2 %", () => {
    const errors: number[] = [];
    for (const t of truth.animals) {
      const animal = series.animals.find((a) => a.animal.animalId === t.animal)!;
      const zero = Date.parse(`${t.birthDate}T15:30Z`);
      for (const [age, g] of t.mass) {
        const near = animal.daily.find(
          (d) => Math.abs(d.at - zero - age * 86_400_000) < 0.6 * 86_400_000,
        );
        if (near !== undefined) errors.push(Math.abs(near.massG / g - 1));
      }
    }
    errors.sort((a, b) => a - b);
    expect(errors.length).toBeGreaterThan(400);
    expect(errors[Math.floor(errors.length / 2)]).toBeLessThan(0.02);
  });
});
