import { describe, expect, it } from "vitest";
import { curveAt } from "../../../src/stats/smoothing/cubic-curve.js";
import { monotoneInterpolation, naturalSpline } from "../../../src/stats/smoothing/interpolate.js";
import { localRegression } from "../../../src/stats/smoothing/local-regression.js";
import { smoothingSpline } from "../../../src/stats/smoothing/smoothing-spline.js";
import { filterTable, readTable } from "../read-table.js";
import { readReference, readReferenceText } from "../reference-folder.js";

/**
 * Smoothers of the reference folder (R 4.2.2): interpolation 1e-12, local regression
 * 1e-8, smoothing splines 1e-4 in value and 1e-3 in slope (the reference's search).
 */
// biome-ignore lint/suspicious/noExplicitAny: outputs of many shapes, each read where it is checked.
type Output = any;

const data = (name: string): { x: number[]; y: number[] } => {
  const columns: Record<string, [string, string, string]> = {
    cars: ["cars", "speed", "dist"],
    mcycle: ["mcycle", "times", "accel"],
    wtloss: ["wtloss", "Days", "Weight"],
  };
  const [file, x, y] = columns[name] ?? ["ChickWeight", "Time", "weight"];
  const all = readTable(readReferenceText(`data/${file}.csv`));
  const t = file === "ChickWeight" ? filterTable(all, (r) => r("Chick") === name.slice(5)) : all;
  return { x: t[x]!.map(Number), y: t[y]!.map(Number) };
};
const closeAll = (got: (number | null)[], wanted: number[], tolerance: number, absolute = 0) => {
  expect(got.length).toBe(wanted.length);
  got.forEach((g, i) => {
    expect(
      Math.abs((g ?? Number.NaN) - wanted[i]!),
      `entry ${i}: ${g}, ${wanted[i]}`,
    ).toBeLessThanOrEqual(tolerance * Math.abs(wanted[i]!) + absolute);
  });
};

describe("smoothers of the reference folder", () => {
  const cases = readReference<{ cases: { id: string; output: Output }[] }>(
    "values/smooth.json",
  ).cases;
  const named = (pattern: RegExp) =>
    cases.filter((c) => pattern.test(c.id)).map((c) => [c.id, c.output] as const);

  it("finds the cases", () => expect(named(/^(ss|interp|loess)-/).length).toBe(18));

  it.each(named(/^ss-/).filter(([, o]) => o.valid))("%s", (id, o) => {
    const [, set, how] = /^ss-([a-z0-9]+)-(.*)$/.exec(id)!;
    const { x, y } = data(set!);
    const option = how!.startsWith("df")
      ? { df: Number(how!.slice(2)) }
      : how === "lambda"
        ? { penalty: o.lambda as number }
        : how === "cv"
          ? { choose: "leave-one-out" as const }
          : {};
    const s = smoothingSpline(x, y, option);
    const size = Math.max(...y.map(Math.abs));
    // Given the same penalty the reference's fit differs by up to 1e-5 of the range (its
    // penalty integrals are approximate); ours is checked against a dense solution elsewhere.
    closeAll([...s.fitted], o.fitted, 1e-4, 2e-5 * size);
    closeAll([s.df], [o.df], 1e-3);
    const points = (o.grid as number[]).map((v) => curveAt(s.curve, v));
    closeAll(
      points.map((p) => p.value),
      o.f,
      1e-4,
      1e-5 * size,
    );
    closeAll(
      points.map((p) => p.slope),
      o.d1,
      1e-3,
      1e-4,
    );
  });

  it.each(named(/^interp-(natural|monoH.FC)/))("%s", (id, o) => {
    const { x, y } = data("chick1");
    const curve = id.includes("natural") ? naturalSpline(x, y) : monotoneInterpolation(x, y);
    const points = (o.grid as number[]).map((v) => curveAt(curve, v));
    closeAll(
      points.map((p) => p.value),
      o.f,
      1e-12,
    );
    closeAll(
      points.map((p) => p.slope),
      o.d1,
      1e-12,
    );
  });

  it.each(named(/^loess-(cars-def|cars-deg1|mcycle|chick1)$/))("%s", (id, o) => {
    const { x, y } = data(/^loess-([a-z]+1?)/.exec(id)![1]!);
    const fit = localRegression(x, y, {
      span: id === "loess-mcycle" ? 0.3 : id === "loess-cars-deg1" ? 0.5 : 0.75,
      degree: id === "loess-cars-deg1" ? 1 : 2,
    });
    closeAll(Array.from(fit.fitted), o.fitted, 1e-8);
    closeAll([fit.residualSd, fit.trace, fit.df], [o.s, o.trace_hat, o.df], 1e-8);
    const places = Object.values(o.grid as Record<string, number[]>)[0]!.map((v) => fit.at(v));
    closeAll(
      places.map((p) => p.value),
      o.f,
      1e-8,
    );
    closeAll(
      places.map((p) => p.se),
      o.se,
      1e-8,
    );
  });

  it.each(named(/^loess-mcycle-robust$/))("%s", (_, o) => {
    const { x, y } = data("mcycle");
    closeAll(
      Array.from(localRegression(x, y, { span: 0.3, robustRounds: 3 }).fitted),
      o.fitted,
      1e-6,
    );
  });
});
