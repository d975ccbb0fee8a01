import type { Random } from "../../core/random.js";
import { type GroupParameters, persistence, slopeMemory } from "../../stats/state-space/group.js";
import type { WatchedAnimal } from "../watch/watch-group.js";

/** When one animal is weighed: ages, day numbers and known error variances, in order. */
export interface WeighingSchedule {
  readonly time: ArrayLike<number>;
  readonly day: ArrayLike<number>;
  readonly knownVariance: ArrayLike<number>;
}

export interface HealthyModel {
  readonly parameters: GroupParameters;
  /** Standard deviation of ln mass between animals of one age. */
  readonly levelSd: number;
  /** Expected relative gain per day at an age. */
  readonly expectedGain: (time: number) => number;
}

/**
 * Draws a healthy group from the fitted model on given schedules: every animal
 * has its own level, slope (falling back to the mean), daily random steps and
 * correlated noise, and each weighing its known error.
 *
 * @example simulateHealthyGroup(schedules, model, seededRandom(1))[0].logMass[0] // 7.53
 */
export function simulateHealthyGroup(
  schedules: readonly WeighingSchedule[],
  model: HealthyModel,
  random: Random,
): WatchedAnimal[] {
  const { noiseSd, persistentShare, slopeSd, walkSd } = model.parameters;
  return schedules.map((schedule, i) => {
    const n = schedule.time.length;
    const logMass = new Float64Array(n);
    let level = Math.log(2000) + model.levelSd * random.normal();
    let slope = slopeSd * random.normal();
    const lastingSd = noiseSd * Math.sqrt(persistentShare);
    const whiteVariance = noiseSd ** 2 * (1 - persistentShare);
    let noise = lastingSd * random.normal();
    for (let j = 0; j < n; j++) {
      if (j > 0) {
        const dt = schedule.time[j]! - schedule.time[j - 1]!;
        const middle = 0.5 * (schedule.time[j]! + schedule.time[j - 1]!);
        level += dt * (model.expectedGain(middle) + slope);
        level += walkSd * Math.sqrt(Math.max(0, dt)) * random.normal();
        const slopeDecay = Math.exp(-dt / slopeMemory);
        slope = slopeDecay * slope + slopeSd * Math.sqrt(1 - slopeDecay ** 2) * random.normal();
        const decay = persistence ** dt;
        noise = decay * noise + lastingSd * Math.sqrt(1 - decay ** 2) * random.normal();
      }
      logMass[j] =
        level + noise + Math.sqrt(schedule.knownVariance[j]! + whiteVariance) * random.normal();
    }
    return {
      id: `drawn ${i + 1}`,
      time: Float64Array.from(schedule.time),
      day: Int32Array.from(schedule.day),
      logMass,
      knownVariance: Float64Array.from(schedule.knownVariance),
      serves: new Uint8Array(n).fill(1),
    };
  });
}
