import type { Random } from "../../core/random.js";
import {
  lastingCorrelation,
  ownMemory,
  timeStep,
  type WanderingParameters,
} from "../../stats/state-space/wandering-slope.js";
import type { WatchedAnimal } from "../watch/watch-group.js";

/** When one animal is weighed: ages, day numbers and known error variances, in order. */
export interface WeighingSchedule {
  readonly time: ArrayLike<number>;
  readonly day: ArrayLike<number>;
  readonly knownVariance: ArrayLike<number>;
}

export interface HealthyModel {
  readonly variation: WanderingParameters;
  /** Standard deviation of ln mass between animals of one age. */
  readonly levelSd: number;
  /** Expected relative gain per day at an age. */
  readonly expectedGain: (time: number) => number;
}

/**
 * Draws a healthy group from the model believed on given schedules: every animal
 * has its own level, a gain of its own that falls back to the mean, gain that
 * wanders, gut fill that lasts, and each weighing its known error.
 *
 * @example simulateHealthyGroup(schedules, model, seededRandom(1))[0].logMass[0] // 7.53
 */
export function simulateHealthyGroup(
  schedules: readonly WeighingSchedule[],
  model: HealthyModel,
  random: Random,
): WatchedAnimal[] {
  const { noiseSd, lastingShare, wander: wanderSd, spread } = model.variation;
  const lastingSd = noiseSd * Math.sqrt(lastingShare);
  const whiteVariance = noiseSd ** 2 * (1 - lastingShare);
  return schedules.map((schedule, i) => {
    const n = schedule.time.length;
    const logMass = new Float64Array(n);
    let level = Math.log(2000) + model.levelSd * random.normal();
    let own = spread * random.normal();
    let wander = wanderSd * random.normal();
    let lasting = lastingSd * random.normal();
    for (let j = 0; j < n; j++) {
      if (j > 0) {
        const dt = schedule.time[j]! - schedule.time[j - 1]!;
        const gain = model.expectedGain(0.5 * (schedule.time[j]! + schedule.time[j - 1]!));
        const step = timeStep(dt, gain);
        const kept = Math.exp(-dt / ownMemory);
        const fresh = wanderSd * random.normal();
        const besides = wanderSd * random.normal();
        // Level and wander over the step: both moments of the integral of the process.
        const wanderVariance = 1 - step.keepWander ** 2;
        const tied = wanderVariance > 0 ? step.levelWander / Math.sqrt(wanderVariance) : 0;
        const free = Math.sqrt(Math.max(0, step.levelVariance - tied * tied));
        level += gain * (dt * (1 + own) + step.reach * wander + tied * fresh + free * besides);
        wander = step.keepWander * wander + Math.sqrt(wanderVariance) * fresh;
        own = kept * own + spread * Math.sqrt(1 - kept ** 2) * random.normal();
        const decay = lastingCorrelation ** dt;
        lasting = decay * lasting + lastingSd * Math.sqrt(1 - decay ** 2) * random.normal();
      }
      logMass[j] =
        level + lasting + Math.sqrt(schedule.knownVariance[j]! + whiteVariance) * random.normal();
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
