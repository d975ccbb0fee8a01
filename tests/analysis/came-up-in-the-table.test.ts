import { expect, it } from "vitest";
import { analyse } from "../../src/analysis/analyse.js";
import { animalOf } from "../../src/analysis/animal-of.js";
import { explainSlowGain } from "../../src/analysis/explain-slow-gain.js";
import { noticeText } from "../../src/core/catalogue.js";
import { parseStudy } from "../../src/records/parse-study.js";
import { addDays } from "../../src/units/calendar.js";
import { inventedNursery } from "../bench/causes/invented-nursery.js";

/** An invented nursery of the tuning seeds, and a little that came up on so many days. */
async function illnessRow(upOnDays: number) {
  const nursery = inventedNursery("converts poorly", 20261400 + 8 * 1000);
  const up = Array.from(
    { length: upOnDays },
    (_, i) => `${nursery.asked},${addDays(nursery.onDay, -1 - i)} 10:00,vomit,once`,
  );
  const inputs = nursery.files.map(({ path, text }) => {
    if (path !== "observations.csv") return { path, bytes: Buffer.from(text) };
    const blanks = ",".repeat(text.split("\n")[0]!.split(",").length - 4);
    const lines = up.map((line) => `${line}${blanks}`);
    return { path, bytes: Buffer.from(`${text.trimEnd()}\n${lines.join("\n")}\n`) };
  });
  const { value } = await analyse(parseStudy(inputs), { onDay: nursery.onDay, curves: [] });
  const animal = animalOf(value, nursery.asked);
  const { rivals } = explainSlowGain(value, animal, []).explanations.value;
  return rivals.find((r) => r.rival === "illness signs")!;
}

it("what came up on three days is not called nothing that shows illness", async () => {
  // Each such line asks for a second look on the same page: the table must not deny it.
  const four = await illnessRow(4);
  expect(four.verdict).toBe("possible");
  expect(noticeText(four.speaksFor[0]!)).toMatch(/^Something came up 4 times on 4 days/);
  expect(four.speaksAgainst).toEqual([]);
  expect((await illnessRow(0)).verdict).toBe("speaks against");
});
