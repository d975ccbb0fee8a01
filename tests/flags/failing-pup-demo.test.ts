import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";
import { replayFlags } from "../../src/flags/replay-flags.js";
import { readStudy } from "../../src/records/files/read-study.js";
import { buildSeries } from "../../src/series/build-series.js";

/** The demo study is invented; its first pup to fail has only two others beside it. */
const demo = fileURLToPath(new URL("../fixtures/demo-853cc0e", import.meta.url));

describe("a failing pup in a group of three", () => {
  it("is named by its weighings within days, though the group is small", async () => {
    const study = buildSeries(await readStudy(demo));
    const { days } = replayFlags(study, { from: "2021-04-10", to: "2021-04-20" });
    const named = days.flatMap((day) => {
      const animal = day.animals.find((a) => a.animalId === "O21-03");
      return animal?.raised.some((s) => s.class === "statistical") ? [day.onDay] : [];
    });
    // True: it fails from 10 April on (tests/fixtures/demo-853cc0e/truth.json).
    expect(named[0]! <= "2021-04-16").toBe(true);
    const kinds = days.at(-1)!.open.find((e) => e.animalId === "O21-03")!.signals;
    expect(kinds.map((s) => s.kind)).toContain("slowed gain");
  });
});
