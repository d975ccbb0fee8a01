import { seededRandom } from "../../src/core/random.js";
import { prepareAnimal } from "../../src/flags/animal-day/prepared-animal.js";
import { acuteLossSignal } from "../../src/flags/rules/acute-loss-signal.js";
import { defaultRuleLimits } from "../../src/flags/rules/rule-limits.js";
import { buildSeries } from "../../src/series/build-series.js";
import { studyOf } from "../series/grow-study.js";
import { type Nursery, nursery, TARE } from "../series/invented-nursery.js";

export interface LossSeen {
  readonly level: "danger" | "look" | "nothing";
  readonly doubted: boolean;
}

/**
 * One animal that truly loses a share of its mass from one day to the next, at
 * the newest weighing: what is raised that day, and whether the reading was
 * doubted. The day before weighs the same truth without the loss.
 */
export function lossSeen(seed: number, of: Omit<Nursery, "animals">, share: number): LossSeen {
  const r = seededRandom(seed).split(3);
  const last = 4 + r.below(of.days - 4);
  const rows = nursery(seed, { ...of, animals: 1 }).slice(0, last + 1);
  const before = rows[last - 1]!;
  // The truth behind the newest reading: what the animal weighed the day before, less the loss.
  const truth = rows.slice(Math.max(0, last - 3), last).reduce((sum, w) => sum + w.massG - TARE, 0);
  const level = truth / Math.min(3, last);
  const noise = of.noise * r.normal();
  rows[last - 1] = { ...before, massG: Math.round(level * Math.exp(of.noise * r.normal())) + TARE };
  rows[last] = { ...rows[last]!, massG: Math.round(level * (1 - share) * Math.exp(noise)) + TARE };
  const series = buildSeries(studyOf(rows));
  const animal = series.animals[0]!;
  const newest = animal.weighings.at(-1)!;
  const found = acuteLossSignal(
    prepareAnimal(animal, series.settings),
    newest.feedingDay,
    defaultRuleLimits,
  );
  const raised = (kind: string) => found.some((s) => s.kind === kind && "raised" in s && s.raised);
  return {
    level: raised("acute loss") ? "danger" : raised("loss") ? "look" : "nothing",
    doubted: newest.slip !== null,
  };
}

/** The level that a loss must reach: its limit lies two standard errors of a difference below it. */
export function levelDue(share: number, noise: number): LossSeen["level"] {
  const beyond = (limit: number) => share >= limit + 2 * Math.SQRT2 * noise;
  return beyond(0.1) ? "danger" : beyond(0.05) ? "look" : "nothing";
}
