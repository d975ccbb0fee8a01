import { describe, expect, it } from "vitest";
import { animalLevels } from "../../src/flags/levels/animal-levels.js";
import { day, hour, smallStudySeries, start } from "../rates/small-study.js";

/**
 * A pup of 50 days, fed every 3 h day and night for eight days; from 06:00 of the ninth
 * an order has five feeds by day and a rest of 8 h at night. Common practice: the rest
 * that is ordered is no gap, on its first night as later; a gap as long by day is one.
 */
const changed = start + 8 * day;
const round = Array.from({ length: 64 }, (_, i) => start + 3 * hour * i);
const clocks = ["06:00", "10:00", "14:00", "18:00", "22:00"];
const byDay = (d: number) => [0, 4, 8, 12, 16].map((h) => changed + d * day + h * hour);

function reasonsAt(at: number, without: readonly number[] = []) {
  const fed = [...round, ...byDay(0), ...byDay(1), ...byDay(2)].filter(
    (t) => t < at && !without.includes(t),
  );
  const study = smallStudySeries({
    animals: [
      { animalId: "P1", birthDateEarliest: "2025-03-12", birthDateLatest: "2025-03-12" },
      // Somebody is up all night and writes of another one.
      { animalId: "P2", birthDateEarliest: "2025-04-21", birthDateLatest: "2025-04-21" },
    ],
    weighings: Array.from({ length: 11 }, (_, i) => [start + i * day + 2 * hour, 3000] as const),
    feeds: [
      ...fed.map((t) => ({ at: t, dietId: "formula", offeredG: 80, refusedG: 0 })),
      ...Array.from({ length: 11 * 8 }, (_, i) => ({
        animalId: "P2",
        at: start + 3 * hour * i,
        dietId: "formula",
      })).filter((f) => f.at <= at),
    ],
    plans: [
      { from: start, gPerFeed: 80, feedsPerDay: 8 },
      { from: changed, gPerFeed: 128, feedTimes: clocks },
    ],
  });
  const level = animalLevels(study, { at, only: ["P1"] })[0]!;
  return level.reasons.filter((r) => r.what === "missed feed" || r.what === "no feed");
}

describe("a rest that is ordered", () => {
  it("is no missed feed on its first night, nor on its second", () => {
    // Last fed at 22:00; at 06:00 the next day's first feed is due.
    expect(reasonsAt(changed + 24 * hour)).toEqual([]);
    expect(reasonsAt(changed + 48 * hour)).toEqual([]);
  });

  it("excuses no gap by day, and not what goes on after it", () => {
    // The feeds of 10:00 and 14:00 left out: 12 h without food at 18:00.
    const [, ten, two] = byDay(1);
    const at = changed + day + 12 * hour - 1;
    expect(reasonsAt(at, [ten!, two!])[0]).toMatchObject({ what: "missed feed" });
    // Nothing since 22:00: at 18:00 the feeds of 06:00, 10:00 and 14:00 are missing.
    const morning = byDay(1).slice(0, 3);
    expect(reasonsAt(changed + day + 12 * hour - 1, morning)[0]).toMatchObject({
      what: "no feed",
      level: "danger",
    });
  });
});
