import { PowerRegression } from "ml-regression";
import { type Measured, measured, notDefined } from "../core/measured.js";
import { type Notice, notice } from "../core/notice.js";
import type { Result } from "../core/result.js";
import type { AnimalSeries } from "../series/animal-series.js";
import { sureValue } from "../series/signs/sign.js";
import { smoothedMassAt } from "../series/smoothed-mass.js";

export interface MassForLengthRow {
  readonly animalId: string;
  readonly at: number;
  readonly lengthCm: number;
  readonly massG: number;
  /** Mass over the group's mass at that length, %. */
  readonly percent: number;
}

export interface MassForLength {
  /** mass (g) = factor x length (cm) ^ exponent. */
  readonly factor: Measured;
  readonly exponent: Measured;
  /** Standard deviation of ln mass about the line, as per cent of mass. */
  readonly spreadPct: Measured;
  readonly rows: readonly MassForLengthRow[];
}

/** Fewest pairs of length and mass, and fewest animals, for a line. */
const leastPairs = 10;
const leastAnimals = 4;

/**
 * How heavy each animal is for its length, against all animals handed in: the
 * allometric line mass = a length^b (least squares on logarithms) through every
 * measured length with the smoothed mass of that day. Several lengths of one
 * animal count each, so the line describes these animals and has no standard
 * error here. A low percentage is thin for its length among them; it is no
 * condition score and no diagnosis.
 *
 * Lengths are read in cm (or mm, m, in with that unit); a length without a mass
 * near it is left out and counted. Definition: allometric growth, Huxley (1932).
 *
 * @example massForLength(otters).value.exponent.value // 2.7
 */
export function massForLength(
  animals: readonly AnimalSeries[],
): Result<"mass-for-length", MassForLength> {
  let without = 0;
  const pairs = animals.flatMap((series) =>
    series.signs.flatMap((sign) => {
      if (sign.kind !== "length") return [];
      const lengthCm = sureValue(sign);
      const massG = smoothedMassAt(series, sign.at).value;
      if (lengthCm === null || !(lengthCm > 0) || massG === null) {
        without++;
        return [];
      }
      return [{ animalId: series.animal.animalId, at: sign.at, lengthCm, massG }];
    }),
  );
  const n = pairs.length;
  const own = new Set(pairs.map((p) => p.animalId)).size;
  const notices: Notice[] = [];
  let value: MassForLength;
  if (n < leastPairs || own < leastAnimals || spreadOfLengths(pairs) < 1.05) {
    const why = notice("mass-for-length-few", "caution", { pairs: n, animals: own });
    notices.push(why);
    value = {
      factor: notDefined("g/cm^b", why),
      exponent: notDefined("1", why),
      spreadPct: notDefined("%", why),
      rows: [],
    };
  } else {
    const line = new PowerRegression(
      pairs.map((p) => p.lengthCm),
      pairs.map((p) => p.massG),
    );
    const rows = pairs.map((p) => ({
      ...p,
      percent: (100 * p.massG) / line.predict(p.lengthCm),
    }));
    const squares = rows.reduce((sum, r) => sum + Math.log(r.percent / 100) ** 2, 0);
    value = {
      factor: measured(line.A, "g/cm^b", { n }),
      exponent: measured(line.B, "1", { n }),
      spreadPct: measured(100 * Math.sqrt(squares / (n - 2)), "%", { n }),
      rows,
    };
  }
  return {
    kind: "mass-for-length",
    schema: 1,
    value,
    method: {
      name: "Allometric line, least squares on logarithms",
      options: { leastPairs, leastAnimals },
      citations: ["Huxley JS (1932) Problems of Relative Growth. Methuen"],
    },
    basis: {
      used: n,
      of: "lengths",
      leftOut: without > 0 ? [{ reason: "no mass near, or no usable length", count: without }] : [],
    },
    diagnostics: {},
    notices,
  };
}

/** Longest over shortest: a line needs lengths that differ. */
function spreadOfLengths(pairs: readonly { readonly lengthCm: number }[]): number {
  const lengths = pairs.map((p) => p.lengthCm);
  return Math.max(...lengths) / Math.min(...lengths);
}
