import { type Measured, measured } from "../core/measured.js";
import { studentTQuantile } from "../stats/distributions/student-t.js";
import { fitLeastSquares } from "../stats/least-squares/fit-least-squares.js";

/** The curve, %, x days after the first solid. */
export function sCurve(x: number, middleD: number, rate: number): number {
  return 100 / (1 + Math.exp(-rate * (x - middleD)));
}

/** Fits a logistic curve from 0 to 100 % to daily shares; null where they do not tell it. */
export function fitSCurve(x: readonly number[], y: readonly number[]) {
  if (x.length < 5 || Math.max(...y) - Math.min(...y) < 5) return null;
  const start = [x[y.findIndex((v) => v >= 50)] ?? x.at(-1)! + 5, 0.1];
  const fit = fitLeastSquares(
    {
      parameters: 2,
      evaluate: (theta, values, gradient) => {
        for (let i = 0; i < x.length; i++) {
          const e = Math.exp(-theta[1]! * (x[i]! - theta[0]!));
          if (!Number.isFinite(e)) return false;
          const s = 1 / (1 + e);
          values[i] = 100 * s;
          gradient[2 * i] = -100 * s * (1 - s) * theta[1]!;
          gradient[2 * i + 1] = 100 * s * (1 - s) * (x[i]! - theta[0]!);
        }
        return true;
      },
    },
    { y },
    { start, lower: [-365, 1e-4], upper: [730, 5] },
  );
  if (!fit.converged || fit.atBound.some(Boolean)) return null;
  const df = x.length - 2;
  const v = fit.unscaledCovariance;
  const scale = fit.rss / df;
  const covariance = v === null ? null : [v[0]! * scale, v[1]! * scale, v[3]! * scale];
  return { middleD: fit.theta[0]!, rate: fit.theta[1]!, stop: fit.stop, covariance, df };
}

/** Days from the last day on record to the weaned share on the curve (delta method). */
export function curveDaysLeft(
  curve: NonNullable<ReturnType<typeof fitSCurve>>,
  lastD: number,
  weanedPct: number,
): Measured {
  const logit = Math.log(weanedPct / (100 - weanedPct));
  const left = curve.middleD + logit / curve.rate - lastD;
  const value = Math.max(0, left);
  if (curve.covariance === null) return measured(value, "d");
  const [vmm, vmk, vkk] = curve.covariance as [number, number, number];
  const g = -logit / curve.rate ** 2;
  const se = Math.sqrt(Math.max(0, vmm + 2 * g * vmk + g * g * vkk));
  const half = studentTQuantile(0.975, curve.df) * se;
  const interval = {
    lower: Math.max(0, left - half),
    upper: Math.max(0, left + half),
    level: 0.95,
  };
  return measured(value, "d", { se, interval });
}
