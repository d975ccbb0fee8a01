import { type Measured, measured, notDefined } from "../core/measured.js";
import { notice } from "../core/notice.js";

export interface AdjustedMassOptions {
  /** Age the mass is brought to, days. Default 205. */
  readonly standardAgeD?: number;
  /** Ages at which the adjustment is allowed, days. Default 160 to 250. */
  readonly validAgeD?: readonly [number, number];
  /** Added after the adjustment (e.g. for the age of the dam), in the unit used. Default 0. */
  readonly add?: number;
}

export interface AdjustedMass {
  /** Average daily gain from birth, never rounded inside. */
  readonly gainPerDay: Measured;
  readonly adjusted: Measured;
}

/**
 * Mass brought to a standard age along the straight line from birth:
 * (mass - birth mass) / age x standard age + birth mass + addition. Outside the
 * ages allowed nothing is adjusted and the reason is given. Works in any mass
 * unit; say which in `unit`.
 *
 * Definition: 205-day adjusted weight, Beef Improvement Federation guidelines.
 *
 * @example gainAdjustedMass({ birth: 95, mass: 800, ageD: 210, unit: "lb" }).adjusted.value // 783.214286
 */
export function gainAdjustedMass(
  data: { birth: number; mass: number; ageD: number; unit: string },
  options: AdjustedMassOptions = {},
): AdjustedMass {
  const standard = options.standardAgeD ?? 205;
  const [youngest, oldest] = options.validAgeD ?? [160, 250];
  const { birth, mass, ageD, unit } = data;
  if (!(ageD > 0)) {
    const why = notice("gain-age-not-positive", "problem", { age: ageD });
    return { gainPerDay: notDefined(`${unit}/d`, why), adjusted: notDefined(unit, why) };
  }
  const gain = (mass - birth) / ageD;
  const gainPerDay = measured(gain, `${unit}/d`);
  if (ageD < youngest || ageD > oldest) {
    const why = notice("gain-age-outside-adjustment", "caution", { age: ageD, youngest, oldest });
    return { gainPerDay, adjusted: notDefined(unit, why) };
  }
  return { gainPerDay, adjusted: measured(gain * standard + birth + (options.add ?? 0), unit) };
}
