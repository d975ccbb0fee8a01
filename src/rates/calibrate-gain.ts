import type { BalanceWindow } from "./balance-windows.js";

/**
 * Each gain drawn towards what its animal and size predict, by how little of the
 * rest is real. The animal's own mean comes first: differences between animals
 * are known well from their many stretches, and the model sets them apart.
 */
export function calibrateGain(windows: readonly BalanceWindow[]) {
  const n = windows.length;
  const mx = windows.reduce((s, w) => s + w.metabolicKg, 0) / n;
  const my = windows.reduce((s, w) => s + w.gainGPerD, 0) / n;
  const sxx = windows.reduce((s, w) => s + (w.metabolicKg - mx) ** 2, 0);
  const sxy = windows.reduce((s, w) => s + (w.metabolicKg - mx) * (w.gainGPerD - my), 0);
  const slope = sxx > 0 ? sxy / sxx : 0;
  const line = windows.map((w) => my + slope * (w.metabolicKg - mx));
  const own = new Map<string, { sum: number; count: number }>();
  windows.forEach((w, i) => {
    const o = own.get(w.animalId) ?? { sum: 0, count: 0 };
    own.set(w.animalId, { sum: o.sum + w.gainGPerD - line[i]!, count: o.count + 1 });
  });
  const expected = windows.map((w, i) => {
    const o = own.get(w.animalId)!;
    return line[i]! + o.sum / o.count;
  });
  const df = Math.max(1, n - own.size - 1);
  const scatter = windows.reduce((s, w, i) => s + (w.gainGPerD - expected[i]!) ** 2, 0) / df;
  const error = windows.reduce((s, w) => s + w.gainSe ** 2, 0) / n;
  const real = Math.max(0, scatter - error);
  const calibrated = windows.map((w, i) => {
    const share = real / (real + w.gainSe ** 2 || 1);
    return expected[i]! + share * (w.gainGPerD - expected[i]!);
  });
  return { calibrated, reliability: scatter > 0 ? real / scatter : 0 };
}
