import { type Measured, measured } from "../core/measured.js";
import { type Notice, notice } from "../core/notice.js";
import type { Result } from "../core/result.js";
import { matrixFromRows } from "../stats/linear-algebra/matrix.js";
import { fitLinearModel, type LinearModel } from "../stats/linear-model/fit-linear-model.js";
import { nearlyKnown } from "./bounds.js";
import { isAttributable } from "./cohort-conversion.js";
import type { FeedConversion } from "./feed-conversion.js";
import { metabolicPower } from "./nutrition-formulas.js";

/** One animal over one test period; intake, of what was kept, in any one unit per day. */
export interface EfficiencyRow {
  readonly animalId: string;
  readonly intakePerD: number;
  readonly gainGPerD: number;
  /** Mass at the middle of the period, kg. */
  readonly midMassKg: number;
}

export interface AnimalEfficiency extends EfficiencyRow {
  /** Intake less what size and gain explain: negative is thrifty. */
  readonly residualIntake: number;
  /** Gain less what intake and size explain: positive is good. */
  readonly residualGain: number;
  /** Gain, g/d, over W^0.75 (Kleiber ratio). */
  readonly kleiberRatio: number;
}

export interface ResidualFeedIntake {
  readonly animals: readonly AnimalEfficiency[];
  /** intake = b0 + b1 gain + b2 mid mass^0.75. */
  readonly coefficients: readonly Measured[];
  readonly r2: number | null;
  readonly residualSd: number | null;
}

export interface EfficiencyOptions {
  /** Fewest animals. Default 15. */
  readonly minimumAnimals?: number;
  /** Unit of the intake, for display. Default "kcal/d". */
  readonly unit?: string;
}

/**
 * Residual feed intake and residual gain: residuals of intake on gain and
 * metabolic mid mass, and of gain on intake and metabolic mid mass. By
 * construction they add up to zero and are uncorrelated with what they were
 * fitted on. With fewer than 15 animals the residuals say more about the fit
 * than about the animals, and none are given.
 *
 * Definition: Koch et al. 1963, J Anim Sci 22:486; mid mass^0.75 as in the beef
 * improvement guidelines.
 *
 * @example residualFeedIntake(rows).value?.animals[0]?.residualIntake // -12.4
 */
export function residualFeedIntake(
  rows: readonly EfficiencyRow[],
  options: EfficiencyOptions = {},
): Result<"residual-feed-intake", ResidualFeedIntake | null> {
  const needed = Math.max(5, options.minimumAnimals ?? 15);
  const unit = options.unit ?? "kcal/d";
  const usable = rows.filter(
    (r) => Number.isFinite(r.intakePerD) && Number.isFinite(r.gainGPerD) && r.midMassKg > 0,
  );
  const notices: Notice[] = [];
  let value: ResidualFeedIntake | null = null;
  if (usable.length < needed) {
    notices.push(notice("efficiency-few-animals", "caution", { n: usable.length, needed }));
  } else {
    const size = usable.map((r) => r.midMassKg ** metabolicPower);
    const intake = usable.map((r) => r.intakePerD);
    const gain = usable.map((r) => r.gainGPerD);
    const onIntake = explain(gain, size, intake);
    const onGain = explain(intake, size, gain);
    if (onIntake.rank < 3 || onGain.rank < 3) {
      notices.push(notice("efficiency-not-separable", "caution", { n: usable.length }));
    } else {
      const units = [unit, `${unit} per g/d`, `${unit} per kg^0.75`];
      value = {
        animals: usable.map((r, i) => ({
          ...r,
          residualIntake: onIntake.residuals[i]!,
          residualGain: onGain.residuals[i]!,
          kleiberRatio: r.gainGPerD / size[i]!,
        })),
        coefficients: units.map((u, k) =>
          measured(onIntake.coefficients[k]!, u, {
            se: onIntake.standardErrors[k] ?? 0,
            n: usable.length,
          }),
        ),
        r2: onIntake.r2,
        residualSd: onIntake.residualSd,
      };
    }
  }
  return {
    kind: "residual-feed-intake",
    schema: 1,
    value,
    method: {
      name: "Residuals of what was kept on gain and metabolic mid mass",
      options: { minimumAnimals: needed, unit },
      citations: ["Koch et al. 1963, J Anim Sci 22:486"],
    },
    basis: {
      used: usable.length,
      leftOut:
        usable.length === rows.length
          ? []
          : [
              {
                reason: "what was kept, gain or mass not known",
                count: rows.length - usable.length,
              },
            ],
      of: "animals",
    },
    diagnostics: {},
    notices,
  };
}

/**
 * Rows for {@link residualFeedIntake} from conversions whose energy is known to within 3 %.
 *
 * @example efficiencyRows([feedConversion(otter, { days: 14 }).value])[0]?.animalId // "O24-02"
 */
export function efficiencyRows(conversions: readonly FeedConversion[]): readonly EfficiencyRow[] {
  return conversions.flatMap((c) => {
    const kcal = isAttributable(c) ? nearlyKnown(c.kept.kcal, 3) : null;
    const { gain, days, meanMassG, animalId } = c;
    if (kcal === null || gain.value === null || !days || meanMassG === null) return [];
    return [
      {
        animalId,
        intakePerD: kcal / days,
        gainGPerD: gain.value,
        midMassKg: meanMassG / 1000,
      },
    ];
  });
}

function explain(
  first: readonly number[],
  second: readonly number[],
  y: readonly number[],
): LinearModel {
  return fitLinearModel(matrixFromRows(first.map((v, i) => [1, v, second[i]!])), y);
}
