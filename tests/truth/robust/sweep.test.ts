import { describe, expect, it } from "vitest";
import { meanOf } from "../../../src/stats/descriptive/describe.js";
import { matrixFromRows } from "../../../src/stats/linear-algebra/matrix.js";
import {
  findMeanShift,
  fitBrokenLine,
  fitTwoLines,
} from "../../../src/stats/linear-model/change-point.js";
import { accelerationOf, bootstrap } from "../../../src/stats/resampling/bootstrap.js";
import {
  bisquareInfluence,
  hampelInfluence,
  huberInfluence,
} from "../../../src/stats/robust/influence-function.js";
import { huberLocation } from "../../../src/stats/robust/robust-location.js";
import { robustRegression } from "../../../src/stats/robust/robust-regression.js";
import { theilSen } from "../../../src/stats/robust/theil-sen.js";
import { filterTable, readTable } from "../read-table.js";
import { readReference, readReferenceText } from "../reference-folder.js";

/** Robust estimates of the reference folder (R 4.2.2, MASS 7.3-58.2): 1e-6, Theil-Sen 1e-12. */
// biome-ignore lint/suspicious/noExplicitAny: outputs of many shapes, each read where it is checked.
type Output = any;

const close = (got: number | null | undefined, wanted: number, tolerance: number) => {
  const g = got ?? Number.NaN;
  expect(Math.abs(g - wanted), `got ${g}, wanted ${wanted}`).toBeLessThanOrEqual(
    tolerance * Math.abs(wanted) + 1e-14,
  );
};
const numbers = (c: string[]) => c.map(Number);
const sets: Record<string, () => { y: number[]; rows: number[][] }> = {
  stackloss: () => {
    const t = readTable(readReferenceText("data/stackloss.csv"));
    const names = ["Air.Flow", "Water.Temp", "Acid.Conc."];
    const rows = t["stack.loss"]!.map((_, i) => [1, ...names.map((n) => Number(t[n]![i]))]);
    return { y: numbers(t["stack.loss"]!), rows };
  },
  phones: () => {
    const t = readTable(readReferenceText("data/phones.csv"));
    return { y: numbers(t["calls"]!), rows: numbers(t["year"]!).map((v) => [1, v]) };
  },
  "animals-log": () => {
    const t = readTable(readReferenceText("data/Animals.csv"));
    const log = (c: string[]) => numbers(c).map(Math.log);
    return { y: log(t["brain"]!), rows: log(t["body"]!).map((v) => [1, v]) };
  },
  "chick20-line": () => {
    const t = filterTable(
      readTable(readReferenceText("data/ChickWeight.csv")),
      (r) => r("Chick") === "20",
    );
    return { y: numbers(t["weight"]!), rows: numbers(t["Time"]!).map((v) => [1, v]) };
  },
};
const influences = {
  huber: huberInfluence(),
  bisquare: bisquareInfluence(),
  hampel: hampelInfluence(),
};

describe("robust estimates of the reference folder", () => {
  const cases = readReference<{ cases: { id: string; output: Output }[] }>(
    "values/robust.json",
  ).cases;
  const named = (pattern: RegExp) =>
    cases.filter((c) => pattern.test(c.id)).map((c) => [c.id, c.output] as const);

  it.each(named(/^rlm-.*-(huber|bisquare|hampel)$/))("%s", (id, o) => {
    const [, set, kind] = /^rlm-(.*)-(huber|bisquare|hampel)$/.exec(id)!;
    const { y, rows } = sets[set!]!();
    const fit = robustRegression(matrixFromRows(rows), y, {
      influence: influences[kind as keyof typeof influences],
    });
    expect(fit.status).toBe("converged");
    Object.values(o.coef as number[]).forEach((b, j) => {
      close(fit.coefficients[j], b, 1e-6);
    });
    Object.values(o.se as number[]).forEach((s, j) => {
      close(fit.standardErrors[j], s, 1e-6);
    });
    close(fit.scale, o.scale, 1e-6);
  });

  it.each(named(/^mad-/))("%s", (_, o) => {
    close(huberLocation(o.x).location, o.huber_mad_k15, 1e-9);
    const both = huberLocation(o.x, { scale: "proposal-2" });
    // The reference gives up after 30 rounds, on the second set before it has settled.
    expect(both.converged).toBe(true);
    close(both.location, o.hubers_mu, 1e-4);
    close(both.scale, o.hubers_s, 1e-3);
  });

  it.each(named(/^theilsen-/))("%s", (_, o) => {
    const t = theilSen(o.x, o.y);
    close(t.slope, o.slope, 1e-12);
    close(t.intercept, o.intercept_median_resid, 1e-12);
    close(t.interval!.lower, o.ci[0], 1e-12);
    close(t.interval!.upper, o.ci[1], 1e-12);
    close(t.trend!.s, o.mk_S, 0);
    close(t.trend!.z, o.mk_z, 1e-12);
  });

  it.each(named(/^seg-.*-continuous$/))("%s", (_, o) => {
    const fit = fitBrokenLine(o.x, o.y);
    // The reference searches the break to about 1e-7; squares are flat there.
    expect(fit.rss).toBeLessThanOrEqual(o.rss * (1 + 1e-9));
    close(fit.at, o.breakpoint, 1e-6);
    close(fit.slopeBefore, o.coef[1], 1e-6);
    close(fit.slopeAfter, o.coef[1] + o.coef[2], 1e-6);
    close(fit.rssOneLine, o.rss_one_line, 1e-10);
  });

  it.each(named(/^seg-.*-discontinuous$/))("%s", (_, o) => {
    const fit = fitTwoLines(o.x, o.y);
    close(fit.after, o.split_after_x, 0);
    close(fit.rss, o.rss, 1e-9);
    close(fit.behind.slope, o.right[1], 1e-9);
  });

  it.each(named(/^seg-nile-mean$/))("%s", (_, o) => {
    const t = readTable(readReferenceText("data/Nile.csv"));
    const shift = findMeanShift(numbers(Object.values(t).at(-1)!));
    expect(shift.lastIndex + 1).toBe(o.last_index_of_first_segment);
    close(shift.means[0], o.means[0], 1e-12);
    close(shift.rss, o.rss, 1e-12);
  });

  it("bootstrap intervals of a mean (Monte-Carlo tolerance of the reference: 0.02)", async () => {
    const boot = readReference<{
      cases: {
        id: string;
        x: number[];
        bca: number[];
        perc: number[];
        basic: number[];
        jackknife_acceleration: number;
      }[];
    }>("values/prediction_intervals.json").cases.find((c) => c.id === "boot-ci-mean")!;
    const { x } = boot;
    close(
      accelerationOf(x.map((_, i) => meanOf(x.filter((_, j) => j !== i)))),
      boot.jackknife_acceleration,
      1e-9,
    );
    for (const [kind, wanted] of [
      ["bca", boot.bca],
      ["percentile", boot.perc],
      ["basic", boot.basic],
    ] as const) {
      const b = await bootstrap(x.length, (rows) => meanOf(rows.map((i) => x[i]!)), {
        kind,
        seed: 20260160,
        resamples: 4000,
      });
      expect(Math.abs(b.interval!.lower! - wanted[0]!)).toBeLessThan(0.03);
      expect(Math.abs(b.interval!.upper! - wanted[1]!)).toBeLessThan(0.03);
    }
  });
});
