import { describe, expect, it } from "vitest";
import { seededRandom } from "../../src/core/random.js";
import type { BalanceWindow } from "../../src/rates/balance-window.js";
import { balanceWindows } from "../../src/rates/balance-windows.js";
import { energyBalance, expectedGain, maintenanceAt } from "../../src/rates/energy-balance.js";
import { dailyMasses, day, feedsEvery, settings, smallSeries, start } from "./small-study.js";

/** Windows from known coefficients: 300 kcal per kg^0.75, 4 kcal per g. */
function simulated(seed: number, gainSe: number, animals = 12, perAnimal = 8): BalanceWindow[] {
  const random = seededRandom(seed);
  return Array.from({ length: animals }, (_, a) => {
    const own = 300 + 15 * random.normal();
    return Array.from({ length: perAnimal }, (_, k): BalanceWindow => {
      const size = (1.8 + 0.35 * k + 0.1 * random.normal()) ** 0.75;
      const gain = 35 + 10 * random.normal();
      return {
        animalId: `A${a}`,
        from: k,
        to: k + 1,
        kcalPerD: own * size + 4 * gain + 12 * random.normal(),
        metabolicKg: size,
        gainGPerD: gain + gainSe * random.normal(),
        gainSe,
      };
    });
  }).flat();
}

describe("energy balance", () => {
  it("recovers what it was made from, also when gain is measured with error", () => {
    const growth: number[] = [];
    const maintenance: number[] = [];
    for (let seed = 1; seed <= 30; seed++) {
      const { value } = energyBalance(simulated(20260400 + seed, 6));
      growth.push(value!.growth.value!);
      maintenance.push(value!.maintenance.value!);
    }
    const mean = (x: readonly number[]) => x.reduce((a, b) => a + b, 0) / x.length;
    // Untreated, the error would pull 4 down to 4 x 100 / 136 = 2.9.
    expect(mean(growth)).toBeGreaterThan(3.7);
    expect(mean(growth)).toBeLessThan(4.3);
    expect(mean(maintenance)).toBeGreaterThan(292);
    expect(mean(maintenance)).toBeLessThan(308);
  });

  it("equals the mixed model when gain is exact, and gives each animal's own upkeep", () => {
    const r = energyBalance(simulated(20260430, 0));
    expect(r.value!.reliability).toBe(1);
    expect(r.value!.growth.value!).toBeCloseTo(4, 0);
    expect(r.value!.animals).toHaveLength(12);
    expect(r.value!.animalSd).toBeGreaterThan(3);
    expect(r.diagnostics["status"]).toBe("converged");
  });

  it("gives the gain to expect for what was eaten", () => {
    const balance = energyBalance(simulated(20260431, 4)).value!;
    const a = balance.maintenance.value!;
    const b = balance.growth.value!;
    const g = expectedGain(balance, 700, 2.2);
    const upkeep = maintenanceAt(balance, 2.2)!;
    expect(Math.abs(upkeep / a - 1)).toBeLessThan(0.1);
    expect(g.value).toBeCloseTo((700 - upkeep * 2.2 ** 0.75) / b, 8);
    expect(g.se!).toBeGreaterThan(0);
    const own = balance.animals[3]!;
    const mine = expectedGain(balance, 700, 2.2, own.animalId);
    const mineUp = maintenanceAt(balance, 2.2, own.animalId)!;
    expect(mineUp - upkeep).toBeCloseTo(own.maintenance - a, 8);
    expect(mine.value).toBeCloseTo((700 - mineUp * 2.2 ** 0.75) / b, 8);
    expect(
      expectedGain({ ...balance, growth: { value: -1, unit: "kcal/g" } }, 700, 2.2).value,
    ).toBeNull();
  });

  it("finds that upkeep grows with another power than 0.75 where it does", () => {
    // 340 x W^0.6: per kg^0.75 it falls by 0.15 of itself per unit of ln(mass).
    const power = simulated(20260433, 2).map((w) => {
      const kg = w.metabolicKg ** (4 / 3);
      const own = 340 * kg ** 0.6 + 4 * w.gainGPerD;
      return { ...w, kcalPerD: own + 5 * Math.sin(1000 * kg) };
    });
    const balance = energyBalance(power).value!;
    expect(balance.sizeEffect!.value!).toBeLessThan(0);
    for (const kg of [2, 2.8, 3.8]) {
      expect(maintenanceAt(balance, kg)! * kg ** 0.75).toBeGreaterThan(0.97 * 340 * kg ** 0.6);
      expect(maintenanceAt(balance, kg)! * kg ** 0.75).toBeLessThan(1.03 * 340 * kg ** 0.6);
    }
    expect(maintenanceAt(balance, 0)).toBeNull();
  });

  it("refuses with the reason: too little, or gains that are all error", () => {
    expect(energyBalance(simulated(1, 4, 2, 20)).notices.map((n) => n.code)).toEqual([
      "balance-few-windows",
    ]);
    expect(energyBalance([]).value).toBeNull();
    const noise = simulated(20260432, 4).map((w) => ({ ...w, gainSe: 60 }));
    expect(energyBalance(noise).notices.map((n) => n.code)).toEqual(["balance-gain-too-noisy"]);
  });

  it("cuts an animal's history into stretches of seven days outside arrival", () => {
    const series = smallSeries({
      weighings: dailyMasses(30, (d) => 2000 + 30 * d),
      feeds: feedsEvery(3, start, start + 30 * day, { offeredG: 80 }),
    });
    const { windows } = balanceWindows(series, { settings });
    expect(windows.length).toBeGreaterThanOrEqual(3);
    for (const w of windows) {
      expect((w.to - w.from) / day).toBeGreaterThanOrEqual(6.5);
      expect(w.gainGPerD).toBeCloseTo(30, 6);
      expect(w.kcalPerD).toBeCloseTo(640 * 1.16, 6);
    }
    windows.slice(1).forEach((w, i) => {
      expect(w.from).toBe(windows[i]!.to);
    });
  });
});
