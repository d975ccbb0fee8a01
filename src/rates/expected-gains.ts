import type { Measured } from "../core/measured.js";
import type { Notice } from "../core/notice.js";
import type { Result } from "../core/result.js";
import type { AnimalSeries, StudySettings } from "../series/animal-series.js";
import { balanceWindows } from "./balance-windows.js";
import { nearlyKnown } from "./bounds.js";
import { isAttributable } from "./cohort-conversion.js";
import { type EnergyBalance, energyBalance, expectedGain } from "./energy-balance.js";
import { feedConversion } from "./feed-conversion.js";
import { seriesUpTo } from "./series-up-to.js";

export interface ExpectedGainsOptions {
  readonly settings: Pick<StudySettings, "zone" | "feedingDayStartHour" | "speciesOverrides">;
  /** Animals to judge, by id. Default: all. */
  readonly animals?: readonly string[];
  /** Data up to this instant. */
  readonly at: number;
  /** Length of the window judged, days. Default 7. */
  readonly days?: number;
}

export interface ExpectedGain {
  readonly animalId: string;
  /** Energy kept: eaten less what came up. */
  readonly kcalPerD: number | null;
  readonly gain: Measured;
  /** For what was kept, at the cohort's maintenance and growth cost. */
  readonly expected: Measured;
  /** Gain less expected, g/d; negative: gains less than its food should give. */
  readonly differenceGPerD: number | null;
}

export interface ExpectedGains {
  readonly balance: EnergyBalance | null;
  readonly animals: readonly ExpectedGain[];
}

/**
 * What each animal should have gained over the last days for the energy it kept, by the
 * energy balance of its species in this study. A gain well below it points away
 * from "eats too little"; it names no cause.
 *
 * @example expectedGains(otters, { settings, at }).value.animals[0]?.differenceGPerD // -18.2
 */
export function expectedGains(
  series: readonly AnimalSeries[],
  options: ExpectedGainsOptions,
): Result<"expected-gains", ExpectedGains> {
  const { settings, at } = options;
  const days = Math.max(7, options.days ?? 7);
  const known = series.map((s) => seriesUpTo(s, at));
  const windows = known.flatMap((s) => balanceWindows(s, { settings, days }).windows);
  const fitted = energyBalance(windows);
  const balance = fitted.value;
  const notices: Notice[] = [...fitted.notices];
  const wanted = options.animals === undefined ? null : new Set(options.animals);
  const animals = known
    .filter((s) => wanted === null || wanted.has(s.animal.animalId))
    .map((s): ExpectedGain => {
      const c = feedConversion(s, {
        endAt: at,
        days,
        minimumDays: days - 0.5,
        minimumWeighings: 4,
      }).value;
      const kcal = isAttributable(c) ? nearlyKnown(c.kept.kcal, 3) : null;
      const perDay = kcal === null || !c.days ? null : kcal / c.days;
      const unknown = { value: null, unit: "g/d" } as const;
      const expected =
        balance === null || perDay === null || c.meanMassG === null
          ? unknown
          : expectedGain(balance, perDay, c.meanMassG / 1000);
      return {
        animalId: s.animal.animalId,
        kcalPerD: perDay,
        gain: c.gain,
        expected,
        differenceGPerD:
          expected.value === null || c.gain.value === null ? null : c.gain.value - expected.value,
      };
    });
  return {
    kind: "expected-gains",
    schema: 1,
    value: { balance, animals },
    method: {
      name: "Gain expected for the energy kept (eaten less what came up)",
      options: { at, days },
      citations: fitted.method.citations,
    },
    basis: { used: windows.length, leftOut: [], of: "stretches of an animal" },
    diagnostics: fitted.diagnostics,
    notices,
  };
}
