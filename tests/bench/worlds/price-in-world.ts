import { balanceWindows } from "../../../src/rates/balance-windows.js";
import { type EnergyBalance, energyBalance } from "../../../src/rates/energy-balance.js";
import { settings } from "../../rates/small-study.js";
import { fedNursery, trueGrowth } from "./fed-nursery.js";
import { drawNursery, type World } from "./world.js";

export interface PricedWorld {
  readonly nurseries: number;
  /** Shares of nurseries with a price, and of those whose limits hold the true one. */
  readonly priced: number;
  readonly held: number;
  /** Mean price over the true one, less 1. */
  readonly bias: number;
  /** Middle of upper over lower limit. */
  readonly factor: number;
  readonly refused: Readonly<Record<string, number>>;
}

export interface FedDesign {
  readonly animals: number;
  /** Days in care, weighed every day. */
  readonly days: number;
  /** How much upkeep differs from day to day, as a share. */
  readonly restless: number;
}

/** Prices of a gram in nurseries of a world that keep full pages. */
export function pricesInWorld(
  world: World,
  design: FedDesign,
  nurseries: number,
  seed: number,
): PricedWorld {
  const found: EnergyBalance[] = [];
  const refused: Record<string, number> = {};
  for (let k = 0; k < nurseries; k++) {
    const animals = drawNursery(
      { ...world, dailyD: [90, 90] },
      { seasons: [design.animals] },
      seed + k,
    );
    const study = fedNursery(animals, design.days, seed + 500_000 + k, design.restless);
    const windows = study.animals.flatMap((s) => balanceWindows(s, { settings }).windows);
    const { value, notices } = energyBalance(windows);
    if (value !== null) found.push(value);
    else for (const n of notices) refused[n.code] = (refused[n.code] ?? 0) + 1;
  }
  const prices = found.map((b) => b.growth.value!);
  const limits = found.map((b) => b.growth.interval!);
  const factors = limits.map((i) => i.upper! / i.lower!).sort((a, b) => a - b);
  const share = (n: number, of: number) => (of === 0 ? Number.NaN : n / of);
  return {
    nurseries,
    priced: found.length / nurseries,
    held: share(
      limits.filter((i) => i.lower! <= trueGrowth && i.upper! >= trueGrowth).length,
      found.length,
    ),
    bias:
      share(
        prices.reduce((s, p) => s + p, 0),
        found.length,
      ) /
        trueGrowth -
      1,
    factor: factors[factors.length >> 1] ?? Number.NaN,
    refused,
  };
}
