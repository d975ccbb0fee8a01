import { describe, expect, it } from "vitest";
import { seededRandom } from "../../src/core/random.js";
import {
  type BalanceWindow,
  balanceWindows,
  energyBalance,
  expectedGain,
} from "../../src/rates/energy-balance.js";
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
    expect(g.value).toBeCloseTo((700 - a * 2.2 ** 0.75) / b, 8);
    expect(g.se!).toBeGreaterThan(0);
    const own = balance.animals[3]!;
    const mine = expectedGain(balance, 700, 2.2, own.animalId);
    expect(mine.value).toBeCloseTo((700 - own.maintenance * 2.2 ** 0.75) / b, 8);
    expect(
      expectedGain({ ...balance, growth: { value: -1, unit: "kcal/g" } }, 700, 2.2).value,
    ).toBeNull();
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
