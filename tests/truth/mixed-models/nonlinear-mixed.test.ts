import { describe, expect, it } from "vitest";
import { fitNonlinearMixed } from "../../../src/stats/nonlinear-mixed/fit-nonlinear-mixed.js";
import { readReference } from "../reference-folder.js";
import { nonlinearModel } from "./nonlinear-models.js";

/**
 * Every nlme::nlme case of the reference folder (R 4.2.2, nlme 3.1-162), ML and
 * REML: fixed effects 1e-4, standard errors 1e-3, standard deviations 2e-3,
 * correlations 5e-3, log-likelihood 1e-3 absolute, predictions 1e-3 of their
 * standard deviation.
 *
 * Under REML nlme settles the covariance of the random effects by ML; the option
 * `restricted: "residual-only"` does the same and is what is compared here.
 */
interface NlmeCase {
  readonly id: string;
  readonly converged: boolean;
  readonly output?: {
    readonly method: "ML" | "REML";
    readonly fixed: Record<string, number>;
    readonly se: Record<string, number>;
    readonly sigma: number;
    readonly random: Record<string, { sd: Record<string, number>; cor: number[][] | null }>;
    readonly logLik: number;
    readonly AIC: number;
    readonly varStruct: Record<string, number> | null;
    readonly corStruct: { Phi: number } | null;
    readonly ranef: { group: string[]; values: Record<string, number[]> };
  };
}
const cases = readReference<{ cases: NlmeCase[] }>("values/nlme.json").cases.filter((c) =>
  c.id.startsWith("nlme-"),
);
const relative = (a: number, b: number) => Math.abs(a - b) / Math.max(Math.abs(b), 1e-12);

describe("nonlinear mixed models against nlme::nlme", () => {
  it("covers every case", () => expect(cases.length).toBe(28));
  for (const c of cases.filter((each) => each.converged)) {
    it(c.id, () => {
      const o = c.output!;
      const { data, starts } = nonlinearModel(c.id);
      const names = Object.keys(o.ranef.values);
      // Chick 18 has two weights, falling: its penalised sum of squares has two minima,
      // and the reference sits in the upper one (2.640 against 2.544). Its figures are
      // found from there; the test below shows what is found by itself.
      const upper = /chick-logistic-Asym-xmid-(RE)?ML$/.test(c.id)
        ? {
            effects: Object.fromEntries(
              o.ranef.group.map((g, i) => [g, names.map((n) => o.ranef.values[n]![i]!)]),
            ),
          }
        : {};
      const fit = fitNonlinearMixed(data, {
        method: o.method,
        starts,
        restricted: "residual-only",
        ...upper,
      });
      expect(fit.status).toBe("converged");
      expect(fit.slope).toBeLessThan(1e-5);
      expect(Math.abs(fit.logLikelihood - o.logLik)).toBeLessThan(1e-3);
      expect(Math.abs(fit.aic - o.AIC)).toBeLessThan(o.corStruct?.Phi === 0.2 ? 3 : 2e-3);
      Object.values(o.fixed).forEach((v, k) => {
        expect(relative(fit.fixed.estimates[k]!, v)).toBeLessThan(1e-4);
      });
      Object.values(o.se).forEach((v, k) => {
        expect(relative(fit.fixed.standardErrors[k]!, v)).toBeLessThan(1e-3);
      });
      expect(relative(fit.sigma, o.sigma)).toBeLessThan(2e-3);
      const random = Object.values(o.random)[0]!;
      Object.values(random.sd).forEach((v, k) => {
        expect(relative(fit.random.sd[k]!, v)).toBeLessThan(2e-3);
      });
      random.cor?.forEach((row, i) => {
        row.forEach((v, j) => {
          expect(Math.abs(fit.random.correlation[i]![j]! - v)).toBeLessThan(5e-3);
        });
      });
      if (o.varStruct !== null) {
        expect(relative(fit.residual!.power!, o.varStruct["power"]!)).toBeLessThan(2e-3);
      }
      if (o.corStruct?.Phi === 0.2) {
        // Orange: residuals 114 days and more apart do not correlate; the reference
        // returns its start, here the boundary is reported.
        expect(fit.residual!.phiAtBoundary).toBe("zero");
        expect(fit.notices.map((n) => n.code)).toContain("mixed-serial-boundary");
      } else if (o.corStruct !== null) {
        expect(relative(fit.residual!.phi!, o.corStruct.Phi)).toBeLessThan(2e-3);
      }
      o.ranef.group.forEach((g, i) => {
        const at = fit.random.groups.indexOf(g);
        names.forEach((name, k) => {
          const off = fit.random.effects[at]![k]! - o.ranef.values[name]![i]!;
          expect(Math.abs(off)).toBeLessThan(1e-3 * fit.random.sd[k]!);
        });
      });
    });
  }

  it("finds the lower of two minima for the group with two falling values", () => {
    const { data, starts } = nonlinearModel("nlme-chick-logistic-Asym-xmid");
    const fit = fitNonlinearMixed(data, { starts });
    expect(fit.status).toBe("converged");
    const at = fit.random.groups.indexOf("18");
    expect(fit.random.effects[at]![0]).toBeLessThan(-100);
  });

  for (const method of ["ML", "REML"] as const) {
    it(`converges on ChickWeight Gompertz, where the reference did not (${method})`, () => {
      const { data, starts } = nonlinearModel("nlme-chick-gompertz-Asym");
      const fit = fitNonlinearMixed(data, { method, starts, restricted: "residual-only" });
      expect(fit.status).toBe("converged");
      expect(fit.change).toBeLessThan(1e-6);
      expect(fit.slope).toBeLessThan(1e-6);
      expect(fit.singular).toBe(false);
      // A stationary point: at the settled effects the linearised likelihood falls on both sides.
      const { objective } = fit.engine;
      const at = Float64Array.from(fit.theta);
      const here = objective.deviance(at, "ML", null);
      for (const f of [0.95, 1.05]) {
        expect(
          objective.deviance(
            at.map((v) => v * f),
            "ML",
            null,
          ),
        ).toBeGreaterThan(here);
      }
      // From another start the same point is found.
      const other = fitNonlinearMixed(data, {
        method,
        starts: [[400, 2.5, 0.94]],
        restricted: "residual-only",
      });
      expect(other.logLikelihood).toBeCloseTo(fit.logLikelihood, 4);
    });

    it(`says that the asymptote of BodyWeight is not identified (${method})`, () => {
      const { data, starts } = nonlinearModel("nlme-rats-asymp-Asym-R0-diet");
      const fit = fitNonlinearMixed(data, { method, starts });
      expect(fit.status).toBe("not-identified");
      const named = fit.notices.find((n) => n.code === "mixed-nonlinear-not-identified")!;
      expect(named.parameters["parameters"]).toContain("Asym.(Intercept)");
    });
  }

  it("maximises the restricted likelihood further than the reference when asked for it in full", () => {
    const { data, starts } = nonlinearModel("nlme-orange-logistic-Asym");
    const full = fitNonlinearMixed(data, { method: "REML", starts });
    const their = cases.find((c) => c.id === "nlme-orange-logistic-Asym-REML")!.output!;
    expect(full.logLikelihood).toBeGreaterThan(their.logLik + 0.02);
  });
});
