import { describe, expect, it } from "vitest";
import { fitAdjustedModel } from "../../src/seasons/adjusted-model.js";
import {
  arrivalBelief,
  arrivalSlope,
  combineArrivalSlopes,
} from "../../src/seasons/arrival-belief.js";
import type { SeasonGain } from "../../src/seasons/season-gain.js";

const file = (perDay: number, sd = 0.004) => ({ perDay, sd, animals: 20 });

describe("what prior files say of a later arrival", () => {
  it("is nothing where no file tells it", () => {
    expect(arrivalBelief([])).toBeNull();
    expect(combineArrivalSlopes([], "houses")).toBeNull();
  });

  it("of one file lies between none and what it says, and is no surer than nurseries are alike", () => {
    // By hand: 1/0.005^2 for nothing known; the file's 0.004 and 0.002 between nurseries, which
    // one file alone moves to 0.002^2 * 6 / 6.
    const w = 1 / (0.004 ** 2 + 0.002 ** 2);
    const belief = arrivalBelief([file(0.01)])!;
    expect(belief.perDay).toBeCloseTo((w * 0.01) / (w + 1 / 0.005 ** 2), 12);
    expect(belief.sd).toBeCloseTo(Math.sqrt(1 / (w + 1 / 0.005 ** 2) + 0.002 ** 2), 12);
    expect(belief).toMatchObject({ nurseries: 1, animals: 20 });
  });

  it("is surer of many that agree than of few, and less sure of many that do not", () => {
    const alike = arrivalBelief(Array.from({ length: 8 }, () => file(0.004)))!;
    const unlike = arrivalBelief(
      Array.from({ length: 8 }, (_, i) => file(i % 2 === 0 ? 0.02 : -0.012)),
    )!;
    expect(alike.sd).toBeLessThan(arrivalBelief([file(0.004)])!.sd);
    expect(unlike.sd).toBeGreaterThan(1.5 * alike.sd);
    expect(alike.sd).toBeGreaterThan(0.0015);
  });

  it("adds up studies of one house, and leaves room between houses", () => {
    const two = [file(0.002), file(0.006)];
    expect(combineArrivalSlopes(two, "one house")!.perDay).toBeCloseTo(0.004, 12);
    expect(combineArrivalSlopes(two, "one house")!.sd).toBeCloseTo(0.004 / Math.SQRT2, 12);
    const houses = combineArrivalSlopes(two, "houses")!;
    expect(houses.sd).toBeGreaterThan(0.004 / Math.SQRT2);
    expect(houses.animals).toBe(40);
  });
});

describe("what a house's own animals show of it", () => {
  const animals = [0, 1, 2].flatMap((s) =>
    [3, 8, 5, 12, 9, 15, 2, 7].map(
      (age, i): SeasonGain => ({
        animalId: `${s}-${i}`,
        season: `s${s}`,
        sex: (i + s) % 2 === 0 ? "female" : "male",
        // Seasons differ by more than arrival does; a day later is 0.2 g/d less at 40.
        gain: 40 + 5 * (s - 1) - 0.2 * (age - 7.625) + [0.4, -0.4, -0.4, 0.4, 0, 0, 0, 0][i]!,
        se: 1,
        weighings: 30,
        arrivalMassG: 1800 + 12 * age + [30, -20, 10, -40, 25, -5, 15, -15][(i + 3 * s) % 8]!,
        arrivalAgeD: age,
        days: [],
      }),
    ),
  );
  const model = fitAdjustedModel(animals, ["s0", "s1", "s2"])!;

  it("is the slope within seasons as a share of the mean gain, mass that comes with age included", () => {
    // By hand, least squares within seasons: -0.2 plus what the odd half grams do to it.
    const ages = [3, 8, 5, 12, 9, 15, 2, 7].map((a) => a - 7.625);
    const odd = [0.4, -0.4, -0.4, 0.4, 0, 0, 0, 0];
    const sxx = ages.reduce((s, a) => s + a * a, 0);
    const expected = (-0.2 + ages.reduce((s, a, i) => s + a * odd[i]!, 0) / sxx) / 40;
    const slope = arrivalSlope(fitAdjustedModel(animals, ["s0", "s1", "s2"], ["arrival age"])!)!;
    expect(slope.perDay).toBeCloseTo(expected, 8);
    // Mass and sex beside it move it by less than its error.
    const full = arrivalSlope(model)!;
    expect(Math.abs(full.perDay - slope.perDay)).toBeLessThan(full.sd);
    expect(full.animals).toBe(24);
  });

  it("is not told where arrival age is not in the model", () => {
    expect(arrivalSlope(fitAdjustedModel(animals, ["s0", "s1", "s2"], ["sex"])!)).toBeNull();
  });
});
