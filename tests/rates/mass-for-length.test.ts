import { fileURLToPath } from "node:url";
import { beforeAll, describe, expect, it } from "vitest";
import { massForLength } from "../../src/rates/mass-for-length.js";
import { readStudy } from "../../src/records/files/read-study.js";
import type { StudySeries } from "../../src/series/animal-series.js";
import { buildSeries } from "../../src/series/build-series.js";
import { matrixFromRows } from "../../src/stats/linear-algebra/matrix.js";
import { fitLinearModel } from "../../src/stats/linear-model/fit-linear-model.js";

const demo = fileURLToPath(new URL("../fixtures/demo-853cc0e", import.meta.url));

describe("mass for length", () => {
  let series: StudySeries;
  beforeAll(async () => {
    series = buildSeries(await readStudy(demo));
  });

  it("is the line of least squares on logarithms, by a second, separate computation", () => {
    const otters = series.animals.filter((a) => a.animal.species === "sea otter");
    const { value, basis } = massForLength(otters);
    expect(basis.used).toBeGreaterThan(100);
    const again = fitLinearModel(
      matrixFromRows(value.rows.map((r) => [1, Math.log(r.lengthCm)])),
      value.rows.map((r) => Math.log(r.massG)),
    );
    expect(value.exponent.value!).toBeCloseTo(again.coefficients[1]!, 9);
    expect(Math.log(value.factor.value!)).toBeCloseTo(again.coefficients[0]!, 9);
    // A least-squares line on logarithms: the mean ln ratio is zero.
    const meanLn = value.rows.reduce((s, r) => s + Math.log(r.percent / 100), 0);
    expect(meanLn).toBeCloseTo(0, 6);
  });

  it("says so instead of drawing a line through too few animals", () => {
    const one = massForLength(series.animals.slice(0, 1));
    expect(one.value.exponent.value).toBeNull();
    expect(one.notices.map((n) => n.code)).toEqual(["mass-for-length-few"]);
  });
});
