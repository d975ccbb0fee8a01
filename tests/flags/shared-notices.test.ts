import { describe, expect, it } from "vitest";
import { sharedNotices } from "../../src/flags/shared-notices.js";
import { parseStudy } from "../../src/records/parse-study.js";
import { buildSeries } from "../../src/series/build-series.js";
import { addDays } from "../../src/units/calendar.js";
import type { Planted } from "../bench/causes/families.js";
import { inventedNursery } from "../bench/causes/invented-nursery.js";

const told = (planted: Planted, seed: number) => {
  const nursery = inventedNursery(planted, seed);
  const encode = (text: string) => new TextEncoder().encode(text);
  const study = buildSeries(
    parseStudy(nursery.files.map(({ path, text }) => ({ path, bytes: encode(text) }))),
  );
  return { nursery, study, notices: sharedNotices(study, nursery.onDay) };
};

describe("what touches several animals on a day", () => {
  // Seeds 20301400 on, written down before the first run.
  it("names a step of a scale that nobody checked, and asks for a known weight and a look at all", () => {
    // Of the first twenty seeds, those in which nobody checked after a step of 3 to 6 days ago.
    const unchecked = [20301413, 20301415].map((seed) => told("scale", seed));
    expect(unchecked.every((t) => !t.nursery.scenario.written)).toBe(true);
    for (const { notices } of unchecked)
      expect(notices.map((n) => n.code)).toEqual(["shared-scale-step", "rival-scale-check"]);
  });

  it("names thin batches with who ate how much of each", () => {
    const { nursery, study, notices } = told("thin batch", 20302400);
    const batches = notices.filter((n) => n.code === "shared-batch-away");
    expect(batches.length).toBeGreaterThan(0);
    for (const n of batches) {
      // Planted: so much less powder by weight, give or take 1.2 % of it.
      expect(n.parameters["pct"] as number).toBeGreaterThan(100 * nursery.scenario.size - 6);
      expect(n.parameters["pct"] as number).toBeLessThan(100 * nursery.scenario.size + 6);
      const id = n.parameters["batch"] as string;
      const eaters = study.animals
        .filter((a) => a.feeds.some((f) => f.row.batchId === id && f.feedingDay === nursery.onDay))
        .map((a) => a.animal.animalId);
      const said = (n.parameters["by"] as readonly string[]).map((b) => b.split(" ")[0]);
      expect([...said].sort()).toEqual(eaters);
    }
  });

  it("says nothing where nothing is shared", () => {
    for (const seed of [20303400, 20303401])
      expect(told("small but healthy", seed).notices).toEqual([]);
  });

  it.each(["heat", "cold water", "power cut", "illness", "new feeder", "new milk", "moved"])(
    "says first what was written of all: %s",
    (kind) => {
      const nursery = inventedNursery("small but healthy", 20303400);
      const encode = (text: string) => new TextEncoder().encode(text);
      const inputs = (when: string) => [
        ...nursery.files
          .filter((f) => f.path !== "events.csv")
          .map(({ path, text }) => ({ path, bytes: encode(text) })),
        {
          path: "events.csv",
          bytes: encode(`at,to,scope,kind,notes\n${when} 08:00,,all,${kind},as it was\n`),
        },
      ];
      const said = (when: string) =>
        sharedNotices(buildSeries(parseStudy(inputs(when))), nursery.onDay).map((n) => [
          n.code,
          n.parameters["notes"],
        ]);
      expect(said(nursery.onDay)).toEqual([["shared-event", "as it was"]]);
      // Not what lies far back, nor what is still to come.
      expect(said(addDays(nursery.onDay, -5))).toEqual([]);
      expect(said(addDays(nursery.onDay, 2))).toEqual([]);
    },
  );
});
