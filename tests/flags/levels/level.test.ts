import { describe, expect, it } from "vitest";
import { notice } from "../../../src/core/notice.js";
import {
  type AnimalLevel,
  gravestFirst,
  type LevelReason,
  mostConcernFirst,
  otherReasons,
} from "../../../src/flags/levels/level.js";
import { makeReason } from "../../../src/flags/levels/make-reason.js";

/** The order of levels and of acts is the project's definition. */
const levels = ["danger", "second look", "measure first", "not judged"] as const;
const acts = [
  "do not feed until spoken",
  "call now, feed as ordered",
  "go and look now",
  null,
] as const;
const sentence = notice("level-records-end", "problem", { end: 0, hours: 1 });

describe("animals on a page", () => {
  const animal = (
    level: AnimalLevel["level"],
    act: AnimalLevel["act"] = null,
    name: string | null = "Tarn",
    animalId = "P1",
  ) => ({ animalId, name, level, act }) as AnimalLevel;
  const sorted = (list: readonly AnimalLevel[]) => [...list].reverse().sort(mostConcernFirst);

  it("stand by level, the most concern first", () => {
    const list = [...levels, "nothing raised" as const].map((level) => animal(level));
    expect(sorted(list)).toEqual(list);
  });

  it("of one level stand by what is to be done, and the level goes first", () => {
    const list = acts.map((act) => animal("danger", act));
    expect(sorted(list)).toEqual(list);
    const look = animal("second look", "do not feed until spoken");
    expect(sorted([animal("danger", null), look])).toEqual([animal("danger", null), look]);
  });

  it("of one level and act stand by name, by id where there is none", () => {
    const list = [
      animal("danger", null, "Asa", "Z9"),
      animal("danger", null, null, "Mo"),
      animal("danger", null, "Tarn", "A1"),
    ];
    expect(sorted(list)).toEqual(list);
    expect(mostConcernFirst(list[0]!, { ...list[0]! })).toBe(0);
    expect(mostConcernFirst(list[2]!, list[0]!)).toBeGreaterThan(0);
    expect(mostConcernFirst(list[0]!, list[2]!)).toBeLessThan(0);
  });
});

describe("reasons of one animal", () => {
  const reason = (level: LevelReason["level"], act: LevelReason["act"] = null, at = 0) =>
    makeReason({ level, what: "loss", sentence, act, at });
  const sorted = (list: readonly LevelReason[]) => [...list].reverse().sort(gravestFirst);

  it("stand by level, then by what is to be done, then the newest first", () => {
    const byLevel = levels.map((level) => reason(level));
    expect(sorted(byLevel)).toEqual(byLevel);
    const byAct = acts.map((act, i) => reason("danger", act, i));
    expect(sorted(byAct)).toEqual(byAct);
    const byTime = [
      reason("danger", null, 9),
      reason("danger", null, 4),
      reason("danger", null, 1),
    ];
    expect(sorted(byTime)).toEqual(byTime);
  });
});

describe("reasons that are no danger", () => {
  it("have a name that somebody can answer", () => {
    for (const name of ["weigh first", "feed in doubt", "missed feed", "conversion", "no order"])
      expect(otherReasons).toContain(name);
  });
});
