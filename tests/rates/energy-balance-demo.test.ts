import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";
import { DEMO_SEED, demoLives } from "../../data-demo/generator/demo-study.js";
import type { Life } from "../../data-demo/generator/life.js";
import type { BalanceWindow } from "../../src/rates/balance-window.js";
import { balanceWindows } from "../../src/rates/balance-windows.js";
import { energyBalance } from "../../src/rates/energy-balance.js";
import { readStudy } from "../../src/records/files/read-study.js";
import { buildSeries } from "../../src/series/build-series.js";

/**
 * What the invented study was made with (`data-demo/generator`): a gram of otter
 * costs 2.2 kcal of usable energy, and 95 % of what is stated can be used.
 */
const TRUE_GROWTH = 2.2 / 0.95;

/** Stretches of what truly happened, without any error of measurement. */
function exactWindows(lives: readonly Life[], days: number): BalanceWindow[] {
  return lives.flatMap((life) => {
    const cared = life.days.filter((d) => d.sinceAdmissionD >= 7);
    return Array.from({ length: Math.floor(cared.length / days) }, (_, k): BalanceWindow => {
      const part = cared.slice(k * days, (k + 1) * days);
      return {
        animalId: life.character.id,
        from: k,
        to: k + 1,
        kcalPerD: part.reduce((s, d) => s + d.eatenKcal, 0) / days,
        metabolicKg: part.reduce((s, d) => s + (d.fromG / 1000) ** 0.75, 0) / days,
        gainGPerD: (part.at(-1)!.toG - part[0]!.fromG) / days,
        gainSe: 0,
      };
    });
  });
}

describe("energy balance of the invented study", () => {
  const { lives, withoutEffect } = demoLives(DEMO_SEED);
  const otters = (list: readonly Life[]) =>
    list.filter((l) => l.character.species === "sea otter" && l.character.trouble === null);
  const growth = (windows: readonly BalanceWindow[]) => energyBalance(windows).value!.growth;

  it.each([7, 14, 21])("finds what growth costs in stretches of %d days without error", (days) => {
    const value = growth(exactWindows(otters(withoutEffect), days)).value!;
    expect(Math.abs(value / TRUE_GROWTH - 1)).toBeLessThan(0.03);
  });

  it("is pulled down where a formula is used better than stated, the more the longer", () => {
    const [week, three] = [7, 21].map((days) => growth(exactWindows(otters(lives), days)).value!);
    expect(week!).toBeLessThan(0.98 * TRUE_GROWTH);
    expect(three!).toBeLessThan(0.93 * TRUE_GROWTH);
    expect(three!).toBeLessThan(week!);
  });

  it("holds the truth in its interval from the records as they are", async () => {
    const folder = fileURLToPath(new URL("../../data-demo", import.meta.url));
    const study = await readStudy(folder);
    const windows = buildSeries(study)
      .animals.filter((a) => a.animal.species === "sea otter")
      .flatMap((a) => balanceWindows(a, { settings: study.settings }).windows);
    const result = energyBalance(windows);
    const { interval, se } = result.value!.growth;
    expect(interval!.lower!).toBeLessThan(TRUE_GROWTH);
    expect(interval!.upper!).toBeGreaterThan(TRUE_GROWTH);
    // What the weighings cannot tell is in the standard error.
    expect(se!).toBeGreaterThan(0.15);
    expect(result.basis.leftOut[0]?.count).toBeGreaterThan(0);
  });
});
