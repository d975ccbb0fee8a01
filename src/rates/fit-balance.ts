import { median } from "../stats/descriptive/median.js";
import {
  type ErrorsInVariablesRegression,
  errorsInVariablesRegression,
} from "../stats/linear-mixed/errors-in-variables-regression.js";
import type { BalanceWindow } from "./balance-window.js";

/** A stretch whose error of gain is more than this many times the usual is left out. */
const wildError = 3;

/** Mean mass of a stretch, kg. */
function massOf(w: BalanceWindow): number {
  return w.metabolicKg ** (4 / 3);
}

/** Without the stretches whose gain, as a share of mass, is far more uncertain than the others'. */
export function withoutWildStretches(windows: readonly BalanceWindow[]): readonly BalanceWindow[] {
  const error = windows.map((w) => w.gainSe / massOf(w));
  const usual = median(error) ?? 0;
  return usual > 0 ? windows.filter((_, i) => error[i]! <= wildError * usual) : windows;
}

/**
 * Energy on metabolic size and gain, with a change of maintenance by ln(mass)
 * where 24 stretches or more ask for it. Estimates in the order maintenance,
 * growth, size effect.
 */
export function fitBalance(windows: readonly BalanceWindow[]): {
  readonly fit: ErrorsInVariablesRegression;
  readonly referenceKg: number;
} {
  const size = windows.map((w) => w.metabolicKg);
  const gain = windows.map((w) => w.gainGPerD);
  const log = windows.map((w) => Math.log(massOf(w)));
  const middle = log.reduce((sum, l) => sum + l, 0) / log.length;
  const fitWith = (names: readonly string[], columns: readonly (readonly number[])[]) =>
    errorsInVariablesRegression({
      response: windows.map((w) => w.kcalPerD),
      names,
      columns,
      noisy: 1,
      errorVariance: windows.map((w) => w.gainSe ** 2),
      group: windows.map((w) => w.animalId),
      random: size,
    });
  const referenceKg = Math.exp(middle);
  const names = ["maintenance", "growth"];
  if (windows.length >= 24) {
    const bySize = size.map((m, i) => m * (log[i]! - middle));
    const fit = fitWith([...names, "size"], [size, gain, bySize]);
    const se = Math.sqrt(fit.covariance[2]?.[2] ?? 0);
    const clear = fit.status === "converged" && Math.abs(fit.estimates[2]!) >= 2 * se;
    if (clear) return { fit, referenceKg };
  }
  return { fit: fitWith(names, [size, gain]), referenceKg };
}
