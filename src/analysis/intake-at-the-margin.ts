import { type Measured, measuredAbout, notDefined } from "../core/measured.js";
import { notice } from "../core/notice.js";
import type { Result } from "../core/result.js";
import type { MissingGrams } from "../flags/missing-grams.js";
import { balanceWindows } from "../rates/balance-windows.js";
import { middleOf } from "../rates/bounds.js";
import { energyBalance } from "../rates/energy-balance.js";
import type { AnimalAnalysis, StudyAnalysis } from "./study-analysis.js";

/** The intake part of the missing grams where maintenance is paid first. */
export interface IntakeAtTheMargin {
  readonly animalId: string;
  /** What a g of gain costs the others of the species, beyond maintenance. */
  readonly growth: Measured;
  /** Energy that the animal kept less than its contemporaries at its size, kcal/d. */
  readonly shortfallKcalPerDay: number | null;
  /** Grams that the shortfall costs if all of it is taken from growth. */
  readonly fromIntake: Measured;
  /** What then remains of the missing grams. */
  readonly rest: Measured;
}

/**
 * A second counterfactual for the missing grams. `missingGrams` prices the
 * shortfall of intake at the contemporaries' average gain per kcal, as if
 * maintenance shrank with it. Maintenance is paid first, so each missing kcal may
 * come out of growth alone: here it is priced at the energy that a further gram of
 * gain costs the other animals of the species (`energyBalance`, this animal left
 * out). The truth lies between the two or beyond where the animal's own
 * maintenance differs. Intervals by the delta method.
 *
 * @example intakeAtTheMargin(analysis, animal, missing).value.fromIntake // 151 g
 */
export function intakeAtTheMargin(
  analysis: StudyAnalysis,
  animal: AnimalAnalysis,
  missing: MissingGrams,
): Result<"intake-at-the-margin", IntakeAtTheMargin> {
  const windows = analysis.animals
    .filter((a) => a !== animal && a.species === animal.species)
    .flatMap((a) => balanceWindows(a.series, { settings: analysis.settings }).windows);
  const fitted = energyBalance(windows);
  const none = { value: null, unit: "kcal/g" } as const;
  const growth = fitted.value?.growth ?? none;
  const own = missing.own.keptKcalPerDay;
  const theirs = missing.expected.keptKcalPerDay;
  const shortfall = own === null || theirs === null ? null : theirs - middleOf(own)!;
  const b = growth.value;
  const usable = b !== null && b > 0 && shortfall !== null && missing.missing.value !== null;
  const why = notice("margin-not-known", "info", { animal: animal.animalId, n: windows.length });
  let fromIntake: Measured = notDefined("g", why);
  let rest: Measured = notDefined("g", why);
  if (usable) {
    const grams = (shortfall * missing.days) / b;
    // The error of the shortfall, as that of the average price, and of the growth cost.
    const ofShortfall =
      missing.fromIntake.se === undefined || !missing.fromIntake.value
        ? 0
        : (grams * missing.fromIntake.se) / Math.abs(missing.fromIntake.value);
    const se = Math.hypot(ofShortfall, (grams * (growth.se ?? 0)) / b);
    // What it may have kept, where what came up was not weighed: both ends are held.
    const half = ((own!.high! - own!.low) / 2) * (missing.days / b);
    const restSe = Math.hypot(se, missing.missing.se ?? 0);
    fromIntake = measuredAbout(grams, "g", se, { half });
    rest = measuredAbout(missing.missing.value! - grams, "g", restSe, { half });
  }
  return {
    kind: "intake-at-the-margin",
    schema: 1,
    value: {
      animalId: animal.animalId,
      growth,
      shortfallKcalPerDay: shortfall,
      fromIntake,
      rest,
    },
    method: {
      name: "Shortfall of energy kept (eaten less what came up) over the energy cost of a g of gain",
      options: { from: missing.from, to: missing.to, level: 0.95 },
      citations: fitted.method.citations,
    },
    basis: { used: windows.length, leftOut: [], of: "stretches of other animals" },
    diagnostics: fitted.diagnostics,
    notices: [...fitted.notices, ...(usable ? [] : [why])],
  };
}
