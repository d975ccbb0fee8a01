import { describe, expect, it } from "vitest";
import { analyse } from "../../src/analysis/analyse.js";
import { readStudy } from "../../src/records/files/read-study.js";

/**
 * An interrupt, a page asked for and a bar all wait for the event loop: each part of an
 * analysis gives them a turn, the watch of the weighings too, which goes through all days.
 */
describe("a long analysis", async () => {
  const folder = new URL("../fixtures/demo-853cc0e", import.meta.url).pathname;
  const study = await readStudy(folder);

  it("is left while its records are read, at the next table", async () => {
    const stop = new AbortController();
    let told = 0;
    const onProgress = () => {
      told++;
      stop.abort(new Error("stopped by hand"));
    };
    const reading = readStudy(folder, { signal: stop.signal, onProgress });
    await expect(reading).rejects.toThrow("stopped by hand");
    expect(told).toBe(1);
  });

  const parts = ["weighings of", "flags of"];

  it.each(parts)("is left while it does '%s' when a signal comes from outside", async (part) => {
    const stop = new AbortController();
    let begun = false;
    let after = 0;
    let total = 0;
    const work = analyse(study, {
      signal: stop.signal,
      onProgress: (progress) => {
        if (begun) after++;
        if (begun || !progress.doing.startsWith(part)) return;
        begun = true;
        total = progress.total;
        setTimeout(() => stop.abort(new Error("stopped by hand")), 0);
      },
    });
    await expect(work).rejects.toThrow("stopped by hand");
    expect(total).toBeGreaterThan(20);
    // What is told comes at every 25th weighing or every 30th day: all of a part is far more.
    expect(after).toBeLessThan(total / 4);
  });
});
