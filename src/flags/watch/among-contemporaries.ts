import { groupT } from "../../stats/descriptive/group-z.js";
import { median } from "../../stats/descriptive/median.js";
import type { RunningAnimal } from "./running-animal.js";
import type { AmongContemporaries } from "./watched-day.js";

export interface ContemporarySettings {
  /** How near in age (days) or, where the age is unreliable, in mass (share) the others must be. */
  readonly ageWithinD: number;
  readonly massWithin: number;
  readonly gainDays: number;
}

export interface LevelAndGain {
  readonly contemporaries: number;
  /** How many of them are of earlier seasons, at the same age. */
  readonly earlier: number;
  /** z of the level and of the gain, low is negative; NaN where not judged. */
  readonly levelZ: number;
  readonly gainZ: number;
  readonly level: AmongContemporaries | null;
  readonly gain: AmongContemporaries | null;
}

/** How many days old the newest value of another animal may be. */
export const recentDays = 3;

/** With fewer contemporaries in care than this, earlier seasons serve too. */
const enoughInCare = 3;

/** One other animal at one of its values. */
interface Other {
  readonly logMass: number;
  readonly time: number;
  readonly gain: number;
}

/**
 * Level and gain of one animal among those near it in age (or in mass, where its
 * age is unreliable) and weighed within the last days. With fewer than 3 of them
 * in care, animals whose record has ended serve too, each with its value nearest
 * in age. The others' masses are brought to its age by their median gain; z by
 * Student's t against the group without it.
 *
 * @param recentGain Gain over the window of every animal weighed within the last days.
 */
export function levelAndGain(
  everyone: readonly RunningAnimal[],
  w: RunningAnimal,
  recentGain: ReadonlyMap<RunningAnimal, number>,
  day: number,
  settings: ContemporarySettings,
): LevelAndGain {
  const own = w.y[w.count - 1]!;
  const ownGain = recentGain.get(w)!;
  const ownReliable = w.source.ageReliable !== false;
  /** Days or share away from the animal, and how far is still near. */
  const away = (other: RunningAnimal, j: number) =>
    ownReliable ? Math.abs(other.time[j]! - w.lastTime) : Math.abs(Math.expm1(other.y[j]! - own));
  const within = ownReliable ? settings.ageWithinD : settings.massWithin;
  const others: Other[] = [];
  for (const [other, gain] of recentGain) {
    if (other === w) continue;
    const last = other.count - 1;
    if (other.serves[last] === 0) continue;
    if (ownReliable && other.source.ageReliable === false) continue;
    if (away(other, last) > within) continue;
    others.push({ logMass: other.y[last]!, time: other.lastTime, gain });
  }
  const inCare = others.length;
  if (inCare < enoughInCare) {
    for (const other of everyone) {
      if (other === w || !other.isEarlier(day) || recentGain.has(other)) continue;
      if (ownReliable && other.source.ageReliable === false) continue;
      const j = ownReliable
        ? other.nearestInTime(w.lastTime, within)
        : other.nearest((at) => away(other, at), within);
      if (j < 0 || other.serves[j] === 0) continue;
      const gain = other.windowGain(settings.gainDays, j);
      others.push({ logMass: other.y[j]!, time: other.time[j]!, gain });
    }
  }
  const gains = others.map((o) => o.gain).filter((g) => !Number.isNaN(g));
  const drift = median(gains) ?? 0;
  const levels = others.map((o) => o.logMass + drift * (w.lastTime - o.time));
  const level = ownReliable ? groupT(own, levels) : null;
  const gain = Number.isNaN(ownGain) ? null : groupT(ownGain, gains);
  const levelKnown = level !== null && level.z !== null;
  const gainKnown = gain !== null && gain.z !== null;
  const earlier = others.length - inCare;
  return {
    contemporaries: others.length,
    earlier,
    levelZ: levelKnown ? level.z : Number.NaN,
    gainZ: gainKnown ? gain.z : Number.NaN,
    level: levelKnown ? { own, centre: level.centre, n: levels.length, earlier } : null,
    gain: gainKnown ? { own: ownGain, centre: gain.centre, n: gains.length, earlier } : null,
  };
}
