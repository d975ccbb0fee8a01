import { fileURLToPath } from "node:url";
import { expect, it } from "vitest";
import { analyse } from "../../src/analysis/analyse.js";
import { readStudy } from "../../src/records/files/read-study.js";

const demo = fileURLToPath(new URL("../fixtures/demo-853cc0e", import.meta.url));

/** Two intervals of one gain stood on one page: in the picture 3 to 31, beside it 4 to 29. */
it("the newest gain is one number with one interval, in courses and tables alike", async () => {
  const { value } = await analyse(await readStudy(demo), { curves: [], onDay: "2024-04-20" });
  const weighed = value.animals.filter((a) => a.gain.recent.gain.value !== null);
  expect(weighed.length).toBeGreaterThan(20);
  for (const { gain } of weighed) expect(gain.daily.at(-1)!.overWindow).toEqual(gain.recent);
});
