import { describe, expect, it } from "vitest";
import { seededRandom } from "../../src/core/random.js";
import { meanGainKnots } from "../../src/flags/watch/mean-gain-curve.js";
import { RunningAnimal } from "../../src/flags/watch/running-animal.js";
import { newSums } from "../../src/stats/state-space/group-fit.js";
import { designs, simulateCohort } from "../bench/simulated-cohorts.js";

const parameters = { noiseSd: 0.015, persistentShare: 0.3, slopeSd: 0.001, walkSd: 0.002 };
const others = { noiseSd: 0.01, persistentShare: 0.1, slopeSd: 0.002, walkSd: 0.001 };

describe("an animal whose record has ended", () => {
  const { animals } = simulateCohort(
    { ...designs["everything"]!, animals: 1, days: 30 },
    seededRandom(73),
  );
  const source = animals[0]!;
  const last = source.day.at(-1)!;
  const ended = { day: last, serves: source.serves.map((v, j) => (j > 20 ? 0 : v)) };

  /** What it adds to the group on a day, filtered on every day since `from`. */
  function addedOn(day: number, from: number, before: typeof parameters) {
    const w = new RunningAnimal({ ...source, ended });
    let added = newSums(1);
    for (let d = from; d <= day; d++) {
      w.advance(d);
      const knots = meanGainKnots(w.time[0]!, w.lastTime);
      w.place(knots);
      added = newSums(knots.width);
      w.filter(d === day ? parameters : before, knots.width, added);
    }
    return [added.xx, added.xy, w.full.xx, w.full.xy];
  }

  it("adds the same to its group whether it was filtered daily before or not at all", () => {
    for (const day of [last, last + 1, last + 5]) {
      const fresh = addedOn(day, day, parameters);
      expect(addedOn(day, last - 10, parameters)).toEqual(fresh);
      expect(addedOn(day, last - 10, others)).toEqual(fresh);
    }
    // Once it has ended fewer of its values serve: that must not be missed.
    expect(addedOn(last + 1, last - 10, parameters)).not.toEqual(
      addedOn(last, last - 10, parameters),
    );
  });
});
