import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";
import { analyse } from "../../src/analysis/analyse.js";
import { missingGrams } from "../../src/flags/missing-grams.js";
import { readStudy } from "../../src/records/files/read-study.js";

/** The demo study is invented: what is checked are laws, and that its slow eater is seen to eat less. */
const demo = fileURLToPath(new URL("../fixtures/demo-853cc0e", import.meta.url));

describe("missing grams with few contemporaries in care", () => {
  it("take animals of earlier seasons over their own days at the same age", async () => {
    const analysis = (await analyse(await readStudy(demo), { onDay: "2024-04-20" })).value;
    const window = { from: "2024-04-06", to: "2024-04-20" };
    const alone = missingGrams(analysis.series, "O24-02", window).value;
    expect(alone.contemporaries.length).toBeLessThan(3);
    expect(alone.missing.value).toBeNull();
    const { missing, fromIntake, rest, contemporaries, own, expected } = missingGrams(
      analysis.series,
      "O24-02",
      { ...window, earlierSeasons: true },
    ).value;
    expect(contemporaries.length).toBeGreaterThanOrEqual(8);
    expect(fromIntake.value! + rest.value!).toBeCloseTo(missing.value!, 9);
    expect(missing.value!).toBeCloseTo(expected.gainG - own.gainG, 9);
    expect(own.keptKcalPerDay!.high!).toBeLessThan(expected.keptKcalPerDay!);
  });
});
