import { describe, expect, it } from "vitest";
import { seededRandom } from "../../src/core/random.js";
import { displayBundle } from "../../src/notebook/display-bundle.js";
import { choleskyFactor, invertFromCholesky } from "../../src/stats/linear-algebra/cholesky.js";
import {
  makeMatrix,
  multiplyMatrices,
  transposeMatrix,
} from "../../src/stats/linear-algebra/matrix.js";
import { estimateContrast, prepareInference } from "../../src/stats/linear-mixed/contrasts.js";
import { crossedLevel } from "../../src/stats/linear-mixed/crossed-level.js";
import { fitLinearMixed } from "../../src/stats/linear-mixed/fit-linear-mixed.js";
import { summariseMixed } from "../../src/stats/linear-mixed/summarise-mixed.js";
import { fitNonlinearMixed } from "../../src/stats/nonlinear-mixed/fit-nonlinear-mixed.js";
import type { MeanFunction } from "../../src/stats/nonlinear-mixed/model.js";
import { summariseNonlinearMixed } from "../../src/stats/nonlinear-mixed/summarise-nonlinear-mixed.js";
import { orangeAges, orangeTrees } from "../truth/mixed-models/orange-trees.js";

/** Rows of five or so in each of eight groups of four houses, the houses taking turns. */
function nestedRows(seed = 41) {
  const random = seededRandom(seed);
  const rows: { house: string; pen: string; day: number; fed: number; y: number }[] = [];
  for (let p = 0; p < 16; p++) {
    const own = 4 * random.normal();
    const slope = 0.5 * random.normal();
    for (let day = 0; day < 3 + (p % 4); day++) {
      rows.push({
        house: `h${p % 4}`,
        pen: `p${p}`,
        day,
        fed: p % 2,
        y: 20 + (p % 4) + own + (2 + slope) * day + random.normal(),
      });
    }
  }
  return rows;
}

type Row = ReturnType<typeof nestedRows>[number];

function fitRows(rows: readonly Row[]) {
  const one = rows.map(() => 1);
  const day = rows.map((r) => r.day);
  return fitLinearMixed({
    response: rows.map((r) => r.y),
    fixed: { names: ["one", "day", "fed"], columns: [one, day, rows.map((r) => r.fed)] },
    levels: [
      { name: "house", group: rows.map((r) => r.house), names: ["one"], columns: [one] },
      { name: "pen", group: rows.map((r) => r.pen), names: ["one", "day"], columns: [one, day] },
    ],
  });
}

describe("Kenward and Roger's degrees of freedom", () => {
  it("do not hang on the order of the rows, with outer groups taking turns or lying together", () => {
    const rows = nestedRows();
    const together = [...rows].sort((a, b) => (a.house < b.house ? -1 : a.house > b.house ? 1 : 0));
    const shuffled = seededRandom(7).shuffled(rows);
    const all = [rows, together, shuffled].map((each) => {
      const inference = prepareInference(fitRows(each), "kenward-roger");
      return [0, 1, 2].map((j) =>
        estimateContrast(
          inference,
          [0, 1, 2].map((k) => (k === j ? 1 : 0)),
        ),
      );
    });
    for (const other of all.slice(1)) {
      other.forEach((c, j) => {
        expect(c.df / all[0]![j]!.df).toBeCloseTo(1, 4);
        expect(c.se / all[0]![j]!.se).toBeCloseTo(1, 5);
      });
    }
  });

  it("come from the covariance as its definition writes it, with V and its inverse in full", () => {
    // Kenward and Roger (1997), equations 2 to 6, by dense matrices.
    const rows = nestedRows(42);
    const fit = fitRows(rows);
    const n = rows.length;
    const x = [rows.map(() => 1), rows.map((r) => r.day), rows.map((r) => r.fed)];
    const same = (a: Row, b: Row, of: "house" | "pen") => (a[of] === b[of] ? 1 : 0);
    const parts = [
      (a: Row, b: Row) => same(a, b, "pen"),
      (a: Row, b: Row) => same(a, b, "pen") * (a.day + b.day),
      (a: Row, b: Row) => same(a, b, "pen") * a.day * b.day,
      (a: Row, b: Row) => same(a, b, "house"),
      (a: Row, b: Row) => (a === b ? 1 : 0),
    ].map((f) =>
      makeMatrix(
        n,
        n,
        rows.flatMap((a) => rows.map((b) => f(a, b))),
      ),
    );
    const pen = fit.random[1]!.covariance;
    const sizes = [
      pen[0]![0]!,
      pen[0]![1]!,
      pen[1]![1]!,
      fit.random[0]!.covariance[0]![0]!,
      fit.sigma ** 2,
    ];
    const v = makeMatrix(n, n);
    parts.forEach((g, r) => {
      for (let i = 0; i < n * n; i++) v.data[i]! += sizes[r]! * g.data[i]!;
    });
    const inverse = (m: ReturnType<typeof makeMatrix>) => invertFromCholesky(choleskyFactor(m)!);
    const times = (...m: ReturnType<typeof makeMatrix>[]) =>
      m.reduce((a, b) => multiplyMatrices(a, b));
    const trace = (m: ReturnType<typeof makeMatrix>) => {
      let s = 0;
      for (let i = 0; i < m.rows; i++) s += m.data[i * m.cols + i]!;
      return s;
    };
    const vi = inverse(v);
    const design = transposeMatrix(makeMatrix(3, n, x.flat()));
    const xt = transposeMatrix(design);
    const phi = inverse(times(xt, vi, design));
    const p = parts.map((g) => times(xt, vi, g, vi, design));
    const q = (r: number, s: number) => times(xt, vi, parts[r]!, vi, parts[s]!, vi, design);
    const information = makeMatrix(5, 5);
    for (let r = 0; r < 5; r++)
      for (let s = 0; s < 5; s++)
        information.data[r * 5 + s] =
          0.5 *
          (trace(times(vi, parts[r]!, vi, parts[s]!)) -
            2 * trace(times(phi, q(r, s))) +
            trace(times(phi, p[r]!, phi, p[s]!)));
    const w = inverse(information);
    const sum = makeMatrix(3, 3);
    for (let r = 0; r < 5; r++)
      for (let s = 0; s < 5; s++) {
        const one = q(r, s);
        const two = times(p[r]!, phi, p[s]!);
        for (let i = 0; i < 9; i++)
          sum.data[i]! += w.data[r * 5 + s]! * (one.data[i]! - two.data[i]!);
      }
    const extra = times(phi, sum, phi);
    const { kenwardRoger } = prepareInference(fit, "kenward-roger");
    for (let i = 0; i < 3; i++)
      for (let j = 0; j < 3; j++) {
        const expected = phi.data[i * 3 + j]! + 2 * extra.data[i * 3 + j]!;
        expect(kenwardRoger!.covariance[i]![j]! / expected).toBeCloseTo(1, 7);
      }
  });
});

describe("crossed grouping factors", () => {
  const random = seededRandom(3);
  const keepers = [3, -2, 1, 0.5].map((v) => v);
  const rows = Array.from({ length: 72 }, (_, i) => ({ keeper: i % 4, litter: (i * 5) % 6 }));
  const y = rows.map((r) => 30 + keepers[r.keeper]! + 1.5 * r.litter + random.normal());
  const one = y.map(() => 1);
  const fixed = { names: ["one"], columns: [one] };
  const keeper = {
    name: "keeper",
    group: rows.map((r) => r.keeper),
    names: ["one"],
    columns: [one],
  };
  const litter = {
    name: "litter",
    group: rows.map((r) => r.litter),
    names: ["one"],
    columns: [one],
  };

  it("are never taken as nested in silence", () => {
    expect(() => fitLinearMixed({ response: y, fixed, levels: [keeper, litter] })).toThrow(
      /litter inside one group of keeper.*"0" stands in several.*crossedLevel.*nested: true/s,
    );
    const nested = fitLinearMixed({
      response: y,
      fixed,
      levels: [keeper, { ...litter, nested: true }],
    });
    expect(nested.random[1]!.groups.length).toBeGreaterThan(6);
  });

  it("are fitted with one of them as a crossed level, whichever comes first", () => {
    const a = fitLinearMixed({
      response: y,
      fixed,
      levels: [crossedLevel("keeper", keeper.group), litter],
    });
    const b = fitLinearMixed({
      response: y,
      fixed,
      levels: [crossedLevel("litter", litter.group), keeper],
    });
    expect(a.logLikelihood).toBeCloseTo(b.logLikelihood, 6);
    expect(a.random[0]!.sd[0]! / b.random[1]!.sd[0]!).toBeCloseTo(1, 4);
    expect(a.random[1]!.sd[0]! / b.random[0]!.sd[0]!).toBeCloseTo(1, 4);
    expect(a.fixed.standardErrors[0]! / b.fixed.standardErrors[0]!).toBeCloseTo(1, 4);
  });
});

describe("a mistake in a mixed model is named as the mistake it is", () => {
  const y = [1, 2, 4, 3, 5, 7, 2, 4, 5, 6, 8, 9];
  const one = y.map(() => 1);
  const day = y.map((_, i) => i % 3);
  const group = y.map((_, i) => Math.floor(i / 3));
  const level = { name: "animal", group, names: ["one"], columns: [one] };
  const fixed = { names: ["one", "day"], columns: [one, day] };
  const attempt = (changes: object) => () =>
    fitLinearMixed({ response: y, fixed, levels: [level], ...changes } as never);

  it.each([
    ["text as numbers", { response: y.map(String) }, /row 0 is the text "1".*map\(Number\)/],
    [
      "text in a column",
      { fixed: { names: ["one", "day"], columns: [one, day.map(String)] } },
      /column day.*text "0"/,
    ],
    [
      "a gap",
      { response: y.map((v, i) => (i === 4 ? Number.NaN : v)) },
      /finite numbers as the response.*row 4 is NaN/,
    ],
    [
      "rows where columns belong",
      { fixed: { names: ["one", "day"], columns: day.map((d) => [1, d]) } },
      /2 names and 12 columns/,
    ],
    ["a bare list as fixed", { fixed: [one, day] }, /names, columns/],
    ["a name too few", { fixed: { names: ["one"], columns: [one, day] } }, /1 names and 2 columns/],
    ["no levels", { levels: undefined }, /`levels`.*levels: \[\]/],
    [
      "groups too few",
      { levels: [{ ...level, group: group.slice(1) }] },
      /12 groups of animal.*11 came/,
    ],
    [
      "a level without effects",
      { levels: [{ ...level, names: [], columns: [] }] },
      /at least one random effect/,
    ],
  ])("%s", (_, changes, message) => {
    expect(attempt(changes)).toThrow(message);
  });

  it.each([
    ["a missing intercept", { fixed: { names: ["day"], columns: [day] } }, "mixed-no-intercept"],
    ["one group", { levels: [{ ...level, group: one }] }, "mixed-one-group"],
    [
      "one row a group",
      { levels: [{ ...level, group: y.map((_, i) => i) }] },
      "mixed-one-row-a-group",
    ],
  ])("%s is said beside the fit", (_, changes, code) => {
    expect(attempt(changes)().notices.map((n) => n.code)).toContain(code);
    expect(attempt({})().notices.map((n) => n.code)).not.toContain(code);
  });

  it("a constant that is a sum of columns is an intercept", () => {
    const first = day.map((d) => (d === 0 ? 1 : 0));
    const rest = day.map((d) => (d === 0 ? 0 : 1));
    const both = attempt({ fixed: { names: ["first", "rest"], columns: [first, rest] } })();
    expect(both.notices.map((n) => n.code)).not.toContain("mixed-no-intercept");
  });
});

// The worked example of Pinheiro and Bates (2000).
const trees = Object.values(orangeTrees);
const orange = {
  x: trees.flatMap(() => orangeAges),
  response: trees.flat(),
  group: trees.flatMap((_, g) => orangeAges.map(() => g)),
  parameters: ["A", "m", "s"],
  random: ["A"],
};
const logistic: MeanFunction = (t, p, out, at) => {
  const s = 1 / (1 + Math.exp((p[1]! - t) / p[2]!));
  const bend = (p[0]! * s * (1 - s)) / p[2]!;
  out[at] = s;
  out[at + 1] = -bend;
  out[at + 2] = (bend * (p[1]! - t)) / p[2]!;
  return p[0]! * s;
};

describe("the gradient of a nonlinear mixed model", () => {
  const starts = [[180, 700, 350]];
  it("is named where it is never written, or written with a wrong sign", () => {
    const none: MeanFunction = (t, p) => logistic(t, p, new Float64Array(3), 0);
    expect(() => fitNonlinearMixed({ ...orange, mean: none }, { starts })).toThrow(
      /derivative by A.*none was written/,
    );
    const turned: MeanFunction = (t, p, out, at) => {
      const value = logistic(t, p, out, at);
      out[at + 1] = -out[at + 1]!;
      return value;
    };
    expect(() => fitNonlinearMixed({ ...orange, mean: turned }, { starts })).toThrow(
      /derivative by m in out\[at \+ 1\].*differences say -/,
    );
  });

  it("passes where it is right, and a start of a wrong length is refused", () => {
    expect(fitNonlinearMixed({ ...orange, mean: logistic }, { starts }).status).toBe("converged");
    expect(() =>
      fitNonlinearMixed({ ...orange, mean: logistic }, { starts: [[180, 700]] }),
    ).toThrow(/3 numbers \(A, m, s\).*one of 2/);
  });
});

describe("show of a mixed model", () => {
  it("prints fixed effects with SE, df, t and p, and the variance components", () => {
    // Source: Pinheiro and Bates (2000), section 8.1: maximum likelihood, 28 degrees of freedom.
    const fit = fitNonlinearMixed({ ...orange, mean: logistic }, { starts: [[180, 700, 350]] });
    const { fixed, variances } = summariseNonlinearMixed(fit);
    expect(fixed[0]!.estimate).toBeCloseTo(191.05, 1);
    expect(fixed[0]!.df).toBe(28);
    expect(variances[0]!.sd).toBeCloseTo(31.48, 1);
    const shown = String(displayBundle(fit)["text/plain"]);
    for (const part of [
      "Fixed effects",
      "Standard error",
      "  df ",
      "  t  ",
      "  p",
      "Variance components",
      "residual",
      "191",
    ]) {
      expect(shown).toContain(part);
    }
  });

  it("writes a p that is far below four decimals as such, never as nought", () => {
    const x = Array.from({ length: 60 }, (_, i) => i);
    const one = x.map(() => 1);
    const fit = fitLinearMixed({
      response: x.map((v) => 3 + 2 * v + ((v * 7919) % 17) / 17 + (v % 6)),
      fixed: { names: ["one", "x"], columns: [one, x] },
      levels: [{ name: "g", group: x.map((v) => v % 6), names: ["one"], columns: [one] }],
    });
    const row = String(displayBundle(fit)["text/plain"])
      .split("\n")
      .find((line) => line.startsWith("x "));
    expect(row).toMatch(/< 0\.0001\s*$/);
  });

  it("agrees with the contrasts it is made of", () => {
    const fit = fitRows(nestedRows());
    const { df, fixed, variances } = summariseMixed(fit);
    expect(df).toBe("kenward-roger");
    const own = estimateContrast(prepareInference(fit), [0, 1, 0]);
    expect(fixed[1]).toEqual({
      effect: "day",
      estimate: own.estimate,
      se: own.se,
      df: own.df,
      t: own.t,
      p: own.p,
    });
    expect(variances.map((v) => `${v.level} ${v.effect}`.trim())).toEqual([
      "house one",
      "pen one",
      "pen day",
      "residual",
    ]);
    const shown = String(displayBundle(fit)["text/plain"]);
    for (const part of [
      "Linear mixed model",
      "day",
      "pen",
      "Kenward and Roger",
      "log-likelihood",
    ]) {
      expect(shown).toContain(part);
    }
  });
});

describe("a crossed level", () => {
  it("names what it needs where factors come in another form", () => {
    const asIfNested = crossedLevel as unknown as (...given: unknown[]) => unknown;
    const needed = /crossedLevel: needed the name of one factor and a list with the group/;
    expect(() => asIfNested([{ name: "a", group: [1, 2] }])).toThrow(needed);
    expect(() => asIfNested("a")).toThrow(needed);
    expect(() => asIfNested("a", "abc")).toThrow(needed);
    expect(crossedLevel("a", Int32Array.of(2, 2, 7)).names).toEqual(["2", "7"]);
  });
});
