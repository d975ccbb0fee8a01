import { describe, expect, it } from "vitest";
import { fitCurve } from "../../src/growth/fit-curve.js";
import { fitManyCurves } from "../../src/growth/fit-many-curves.js";
import { simulateSeries } from "../bench/curve-simulations.js";

const series = Array.from({ length: 600 }, (_, i) => {
  const made = simulateSeries("logistic", 5000 + i, { n: 20 })!;
  return { name: `series ${i}`, ages: made.ages, masses: made.masses };
});

describe("fitting many series", () => {
  it("gives what fitCurve gives for each, in order, and reports progress", async () => {
    const steps: number[] = [];
    const many = await fitManyCurves(series, {
      curve: "logistic",
      onProgress: ({ done, total }) => {
        expect(total).toBe(600);
        steps.push(done);
      },
    });
    expect(steps).toEqual([250, 500, 600]);
    expect(many.value.fits.map((each) => each.name)).toEqual(series.map((each) => each.name));
    for (const at of [0, 251, 599]) {
      const one = fitCurve(series[at]!, { curve: "logistic" });
      expect(many.value.fits[at]!.estimates).toEqual(
        one.value.estimates.map((each) => each.estimate.value),
      );
      expect(many.value.fits[at]!.aicc).toBe(one.value.aicc);
    }
  });

  it("gives the same from worker threads", async () => {
    const here = await fitManyCurves(series, { curve: "gompertz" });
    const there = await fitManyCurves(series, { curve: "gompertz", threads: 2 });
    expect(there.value).toEqual(here.value);
  });

  it("can be cancelled, with and without threads", async () => {
    for (const threads of [0, 2]) {
      const controller = new AbortController();
      const work = fitManyCurves(series, {
        curve: "logistic",
        threads,
        signal: controller.signal,
        onProgress: () => controller.abort(new Error("enough")),
      });
      await expect(work).rejects.toThrow("enough");
    }
    const early = new AbortController();
    early.abort(new Error("before"));
    await expect(
      fitManyCurves(series, { curve: "logistic", signal: early.signal }),
    ).rejects.toThrow("before");
  });

  it("refuses a curve that cannot travel", async () => {
    await expect(fitManyCurves(series, { curve: {} as never })).rejects.toThrow(/fitCurve/);
  });
});
