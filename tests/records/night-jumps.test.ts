import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { timedEntry } from "../../src/records/doubtful-times.js";
import { DraftRows, DraftTable } from "../../src/records/draft-row.js";
import { findNightDates } from "../../src/records/layouts/find-night-dates.js";
import { mayGoPastMidnight } from "../../src/records/night-jumps.js";
import { SharedWords } from "../../src/records/shared-words.js";

const start = Date.UTC(2025, 4, 1);

/** Feeds of a few animals: in the order of time, some past midnight under the evening's date. */
const feeds = fc.array(
  fc.record({
    animal: fc.constantFrom("P1", "P2", null),
    diet: fc.constantFrom("milk", "clam", null),
    day: fc.nat(3),
    hour: fc.constantFrom(0, 1, 4, 7, 8, 10, 13, 19, 21, 23),
  }),
  { minLength: 1, maxLength: 14 },
);

describe("a file that the columns say holds no night under the evening's date", () => {
  it("is one in which none is found, row by row", () => {
    let none = 0;
    let some = 0;
    fc.assert(
      fc.property(feeds, fc.boolean(), fc.boolean(), (rows, byDay, turned) => {
        const listed = byDay ? [...rows].sort((a, b) => a.day - b.day) : [...rows];
        if (turned) listed.reverse();
        const blank = rows.map(() => ({ line: 2, cells: [] }));
        const table = new DraftTable("feeds", "f.csv", new Map(), blank, new SharedWords());
        for (const [i, { animal, diet, day, hour }] of listed.entries()) {
          const draft = table.add(i);
          draft.set("at", start + (24 * day + hour) * 3_600_000);
          draft.set("animalId", animal);
          if (animal === null) draft.set("groupId", "all");
          draft.set("dietId", diet);
        }
        const drafts = new DraftRows([table]);
        const entries = drafts.map((d, row) =>
          timedEntry(d.get("at") as number, "UTC", {
            whose: String(d.get("animalId") ?? d.get("groupId")),
            kind: String(d.get("dietId") ?? ""),
            row,
          }),
        );
        const found = findNightDates(entries);
        if (found !== null) some++;
        if (mayGoPastMidnight(drafts, "UTC")) return;
        none++;
        expect(found).toBeNull();
      }),
      { seed: 2018, numRuns: 4000 },
    );
    expect(none).toBeGreaterThan(500);
    expect(some).toBeGreaterThan(100);
  });
});
