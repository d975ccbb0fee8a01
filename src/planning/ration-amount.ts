import { type Notice, notice } from "../core/notice.js";
import { metabolicPower, restingEnergy } from "../rates/nutrition-formulas.js";
import { bandAt } from "../species/age-band.js";
import type { SpeciesProfile } from "../species/species-profile.js";

/**
 * What the day's amount is worked out from. None of them looks at how the
 * animal has been gaining: a slow gain by itself never raises a ration.
 */
export type RationTarget =
  /**
   * From the species profile: the middle of its share of body mass, or the low
   * end of its energy demand where that is more, so that a thin diet is no
   * hidden hunger.
   */
  | { readonly kind: "profile" }
  /** % of body mass a day, as fed. */
  | { readonly kind: "share of mass"; readonly pct: number }
  | { readonly kind: "energy"; readonly kcalPerD: number }
  /** Maintenance and growth from an energy balance: kcal = maintenance W^0.75 + growth x gain. */
  | {
      readonly kind: "gain";
      readonly gainGPerD: number;
      readonly maintenanceKcal: number;
      readonly growthKcalPerG: number;
    }
  /** What is ordered for the animal, feed by feed. */
  | { readonly kind: "plan" };

/** An amount in grams as fed or in kcal, and how it came about. */
export interface RationAmount {
  readonly unit: "g" | "kcal";
  readonly amount: number;
  readonly why: Notice;
}

/** The amounts of a day, of which the largest counts, or the reason why there is none. */
export function rationAmounts(
  target: RationTarget,
  massKg: number,
  ageD: number | null,
  profile: SpeciesProfile,
  orderedG: number | null,
): readonly RationAmount[] | Notice {
  const { species } = profile;
  switch (target.kind) {
    case "profile": {
      const share = bandAt(profile.intake, ageD)?.share;
      const demand = bandAt(profile.energyDemand, ageD)?.timesResting;
      if (share === undefined && demand === undefined) {
        return notice("ration-no-profile", "caution", { species, age: ageD });
      }
      const byShare =
        share === undefined ? [] : [fromShare(middle(share.range), massKg, share.source)];
      if (demand === undefined) return byShare;
      const times = demand.range[0];
      const kcal = times * restingEnergy(massKg);
      const why = notice("ration-from-demand", "info", { kcal, times, source: demand.source });
      return [...byShare, { unit: "kcal", amount: kcal, why }];
    }
    case "share of mass":
      return positive(fromShare(target.pct, massKg, "entered"));
    case "energy": {
      const kcal = target.kcalPerD;
      return positive({
        unit: "kcal",
        amount: kcal,
        why: notice("ration-from-energy", "info", { kcal }),
      });
    }
    case "gain": {
      const { gainGPerD: gain, maintenanceKcal, growthKcalPerG } = target;
      const kcal = maintenanceKcal * massKg ** metabolicPower + growthKcalPerG * gain;
      const parameters = { kcal, gain, maintenanceKcal, growthKcalPerG };
      return positive({
        unit: "kcal",
        amount: kcal,
        why: notice("ration-from-gain", "info", parameters),
      });
    }
    case "plan": {
      if (orderedG === null || !(orderedG > 0)) return notice("ration-no-plan", "caution", {});
      const why = notice("ration-from-plan", "info", { grams: orderedG });
      return [{ unit: "g", amount: orderedG, why }];
    }
  }
}

function fromShare(pct: number, massKg: number, source: string): RationAmount {
  const why = notice("ration-from-share", "info", { pct, mass: 1000 * massKg, source });
  return { unit: "g", amount: 10 * massKg * pct, why };
}

function middle(range: readonly [number, number]): number {
  return (range[0] + range[1]) / 2;
}

function positive(amount: RationAmount): readonly RationAmount[] | Notice {
  return amount.amount > 0 && Number.isFinite(amount.amount)
    ? [amount]
    : notice("ration-amount-not-positive", "problem", { amount: amount.amount, unit: amount.unit });
}
