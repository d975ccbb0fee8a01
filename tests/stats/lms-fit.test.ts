import { describe, expect, it } from "vitest";
import { seededRandom } from "../../src/core/random.js";
import { makeMatrix } from "../../src/stats/linear-algebra/matrix.js";
import { fitLms } from "../../src/stats/lms/lms-fit.js";
import { lmsCentile } from "../../src/stats/lms/lms-z.js";
import { naturalSplineBasis } from "../../src/stats/smoothing/spline-basis.js";
import { readReference, readReferenceText } from "../truth/reference-folder.js";

const constant = (n: number, link: "identity" | "log") => ({
  columns: makeMatrix(n, 1, new Float64Array(n).fill(1)),
  link,
  penalty: null,
});

describe("Box-Cox normal fit", () => {
  it("gives back the parameters of values drawn from them", () => {
    // 20,000 draws, seed 12; limits are 4 standard errors of the expected information.
    const random = seededRandom(12);
    const truth = { l: 0.5, m: 3000, s: 0.12 };
    const y = Array.from({ length: 20_000 }, () => lmsCentile(random.normal(), truth)!);
    const fit = fitLms(
      y,
      constant(y.length, "identity"),
      constant(y.length, "log"),
      constant(y.length, "log"),
    );
    expect(fit.stoppedBy).toBe("small gradient");
    expect(Math.abs(fit.l[0]! - 0.5)).toBeLessThan(
      4 / (0.12 * Math.sqrt(1.75)) / Math.sqrt(20_000),
    );
    expect(Math.abs(fit.m[0]! / 3000 - 1)).toBeLessThan((4 * 0.13) / Math.sqrt(20_000));
    expect(Math.abs(fit.s[0]! / 0.12 - 1)).toBeLessThan(4 / Math.sqrt(40_000));
    expect(fit.effective).toBeCloseTo(3, 8);
  });

  describe("against general statistics software", () => {
    it("gives the maximum likelihood of constant L, M and S on all published sets", () => {
      // R, direct maximisation: L 1e-4, M and S 1e-5, log likelihood 1e-6 absolute.
      const sets = readReference<{
        constant_lms_ml: Record<string, { L: number; M: number; S: number; logLik: number }>;
      }>("values/lms.json").constant_lms_ml;
      const chicks = readReferenceText("data/ChickWeight.csv").trim().split("\n").slice(1);
      const bmi = readReferenceText("data/bmi.nz.csv").trim().split("\n").slice(1);
      const header = readReferenceText("data/ChickWeight.csv")
        .split("\n")[0]!
        .replaceAll('"', "")
        .split(",");
      const w = header.indexOf("weight");
      const t = header.indexOf("Time");
      let checked = 0;
      for (const [name, want] of Object.entries(sets)) {
        const time = name.match(/Time(\d+)/)?.[1];
        const y =
          time === undefined
            ? bmi.map((line) => Number(line.split(",")[1]))
            : chicks
                .map((line) => line.replaceAll('"', "").split(","))
                .filter((c) => Number(c[t]) === Number(time))
                .map((c) => Number(c[w]));
        const fit = fitLms(
          y,
          constant(y.length, "identity"),
          constant(y.length, "log"),
          constant(y.length, "log"),
        );
        expect(Math.abs(fit.l[0]! - want.L)).toBeLessThan(1e-4 * Math.max(1, Math.abs(want.L)));
        expect(Math.abs(fit.m[0]! / want.M - 1)).toBeLessThan(1e-5);
        expect(Math.abs(fit.s[0]! / want.S - 1)).toBeLessThan(1e-5);
        expect(Math.abs(fit.logLikelihood - want.logLik)).toBeLessThan(1e-6);
        checked++;
      }
      expect(checked).toBe(7);
    });

    it("gives the maximum likelihood with a spline for the median", () => {
      const want = readReference<{
        direct: {
          direct_ml: {
            logLik: number;
            L: Record<string, number>;
            S: Record<string, number>;
            M: { age: number[]; M: number[] };
          };
        };
      }>("values/lms.json").direct.direct_ml;
      const rows = readReferenceText("data/bmi.nz.csv")
        .trim()
        .split("\n")
        .slice(1)
        .map((r) => r.split(",").map(Number));
      const spline = { knots: [30, 50], boundary: [15, 90] as const };
      const columns = naturalSplineBasis(
        rows.map((r) => r[0]!),
        spline,
      );
      const n = rows.length;
      const fit = fitLms(
        rows.map((r) => r[1]!),
        constant(n, "identity"),
        { columns, link: "identity", penalty: null },
        constant(n, "log"),
      );
      expect(Math.abs(fit.logLikelihood - want.logLik)).toBeLessThan(1e-5);
      expect(fit.l[0]!).toBeCloseTo(want.L[""]!, 4);
      expect(fit.s[0]!).toBeCloseTo(want.S[""]!, 6);
      const at = naturalSplineBasis(want.M.age, spline);
      want.M.M.forEach((m, i) => {
        let value = 0;
        for (let k = 0; k < at.cols; k++)
          value += at.data[i * at.cols + k]! * fit.coefficients.m[k]!;
        expect(Math.abs(value / m - 1)).toBeLessThan(1e-4);
      });
    });
  });
});
