import { type Measured, measured, notDefined } from "../core/measured.js";
import { type Notice, notice } from "../core/notice.js";
import type { AgeBasis } from "../series/animal-series.js";
import { groupZ } from "../stats/descriptive/group-z.js";
import { median } from "../stats/descriptive/median.js";
import { quantile } from "../stats/descriptive/quantile.js";
import type { Contemporaries, Contemporary } from "./contemporaries.js";

export interface ContemporaryZ {
  /** z against the contemporaries; null with the reason where not judged. */
  readonly z: Measured;
  /** How it was standardised: 8 and more by median and MAD, fewer by Student's t. */
  readonly by: "median and MAD" | "Student's t" | null;
  /** The animal's own value and the contemporaries' centre, in `unit`. */
  readonly own: number | null;
  readonly centre: number | null;
  readonly unit: "g" | "%/d";
  readonly n: number;
  /** The contemporaries' own values in `unit`, smallest first; masses brought to the animal's age. */
  readonly others: readonly number[];
  /** Between which nine in ten of them lie; null below 8, where each is shown instead. */
  readonly nineInTen: readonly [number, number] | null;
  /** Where the birth range exceeds 3 days: z at its earliest and latest end. */
  readonly zAtEnds: readonly [number, number] | null;
  readonly notices: readonly Notice[];
}

/**
 * Weight-for-age z against contemporaries. Each contemporary's mass is brought
 * to the animal's age along the contemporaries' median relative gain, so that a
 * younger animal is not named for being younger; the comparison is made on ln
 * mass. With 8 or more contemporaries z = (x - median) / (1.4826 MAD); below 8
 * the t-statistic of a new value against the group, (x - mean)/(s sqrt(1 + 1/n)),
 * turned into the z of equal tail probability. Not computed where age is unknown
 * or was estimated from mass (it would be circular), nor below 3 contemporaries.
 *
 * @example weightForAgeZ(contemporaries(series, "O24-02", { onDay: "2024-05-14", earlierSeasons: true }), otter.age).z.value // 1.1955
 */
export function weightForAgeZ(group: Contemporaries, age: AgeBasis): ContemporaryZ {
  const unit = "g";
  if (group.own === null) return unjudged(group, unit, "z-no-recent-weighing");
  if (group.matchedBy === "mass" || group.own.ageD === null) {
    return unjudged(group, unit, "z-age-circular");
  }
  const members = group.members.filter((m) => m.ageD !== null);
  const drift = medianRelativeGain(members);
  const own = group.own;
  const broughtTo = (ageD: number) =>
    members.map((m) => Math.log(m.massG) + (drift / 100) * (ageD - m.ageD!));
  const at = (ageD: number) => groupZ(Math.log(own.massG), broughtTo(ageD));
  const middle = at(own.ageD!);
  if (middle.z === null) return unjudged(group, unit, reasonCode(middle.why));
  const half = (age.rangeDays ?? 0) > 3 ? (age.rangeDays ?? 0) / 2 : 0;
  const ends = half > 0 ? ([at(own.ageD! + half).z, at(own.ageD! - half).z] as const) : null;
  const zAtEnds =
    ends !== null && ends[0] !== null && ends[1] !== null ? ([ends[0], ends[1]] as const) : null;
  const value = measured(middle.z, "z", {
    n: members.length,
    ...(zAtEnds === null
      ? {}
      : {
          interval: {
            lower: Math.min(...zAtEnds, middle.z),
            upper: Math.max(...zAtEnds, middle.z),
            level: 1,
          },
        }),
  });
  return {
    z: value,
    by: middle.by,
    own: own.massG,
    centre: Math.exp(middle.centre),
    unit,
    n: members.length,
    ...spreadOf(broughtTo(own.ageD!).map(Math.exp)),
    zAtEnds,
    notices:
      members.length < 8 ? [notice("z-few-contemporaries", "caution", { n: members.length })] : [],
  };
}

/**
 * z of the relative gain over the last days (7 by default) against the same
 * window of the contemporaries, standardised as in {@link weightForAgeZ}. The
 * relative gain (%/d) is compared because contemporaries differ in size.
 *
 * @example gainZ(contemporaries(series, "O24-02", { onDay: "2024-05-14", earlierSeasons: true })).z.value // 1.481
 */
export function gainZ(group: Contemporaries): ContemporaryZ {
  const unit = "%/d";
  if (group.own === null) return unjudged(group, unit, "z-no-recent-weighing");
  const own = group.own.gain.relative.value;
  if (own === null) return unjudged(group, unit, "z-no-gain");
  const others = group.members.flatMap((m) =>
    m.gain.relative.value === null ? [] : [m.gain.relative.value],
  );
  const result = groupZ(own, others);
  if (result.z === null)
    return {
      ...unjudged(group, unit, reasonCode(result.why)),
      n: others.length,
      ...spreadOf(others),
    };
  return {
    z: measured(result.z, "z", { n: others.length }),
    by: result.by,
    own,
    centre: result.centre,
    unit,
    n: others.length,
    ...spreadOf(others),
    zAtEnds: null,
    notices:
      others.length < 8 ? [notice("z-few-contemporaries", "caution", { n: others.length })] : [],
  };
}

function medianRelativeGain(members: readonly Contemporary[]): number {
  const gains = members.flatMap((m) =>
    m.gain.relative.value === null ? [] : [m.gain.relative.value],
  );
  return median(gains) ?? 0;
}

/** Fewer values than this say nothing of a share of them. */
const fewestForShares = 8;

function spreadOf(values: readonly number[]): Pick<ContemporaryZ, "others" | "nineInTen"> {
  const others = [...values].sort((a, b) => a - b);
  if (others.length < fewestForShares) return { others, nineInTen: null };
  return { others, nineInTen: [quantile(others, 0.05)!, quantile(others, 0.95)!] };
}

function reasonCode(why: "too few" | "no spread" | "not finite") {
  return why === "no spread" ? "z-no-spread" : "z-too-few-contemporaries";
}

function unjudged(
  group: Contemporaries,
  unit: "g" | "%/d",
  code:
    | "z-no-recent-weighing"
    | "z-age-circular"
    | "z-no-gain"
    | "z-no-spread"
    | "z-too-few-contemporaries",
): ContemporaryZ {
  const why = notice(code, "info", { animal: group.animalId, n: group.n });
  return {
    z: notDefined("z", why),
    by: null,
    own: unit === "g" ? (group.own?.massG ?? null) : (group.own?.gain.relative.value ?? null),
    centre: null,
    unit,
    n: group.n,
    others: [],
    nineInTen: null,
    zAtEnds: null,
    notices: [why],
  };
}
