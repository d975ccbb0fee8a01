import { describe, expect, it } from "vitest";
import type { Progress } from "../../src/core/long-work.js";
import { runSteps, runStepsInTurns, type Steps } from "../../src/core/steps.js";

/** Counts, busy for a moment at every step. */
function* count(to: number, busyMs = 0): Steps<number> {
  for (let n = 1; n <= to; n++) {
    const until = Date.now() + busyMs;
    while (Date.now() < until);
    yield n % 2 === 0 ? { done: n, total: to, doing: "counting" } : undefined;
  }
  return to;
}

describe("work in steps", () => {
  it("comes to the same in one go and in turns, and tells the same", async () => {
    const [atOnce, inTurns]: [Progress[], Progress[]] = [[], []];
    expect(runSteps(count(5), { onProgress: (p) => atOnce.push(p) })).toBe(5);
    expect(await runStepsInTurns(count(5), { onProgress: (p) => inTurns.push(p) })).toBe(5);
    expect(atOnce.map((p) => p.done)).toEqual([2, 4]);
    expect(inTurns).toEqual(atOnce);
  });

  it("is left at the next step after a signal, with its reason", () => {
    const stop = new AbortController();
    const onProgress = () => stop.abort(new Error("enough"));
    expect(() => runSteps(count(9), { signal: stop.signal, onProgress })).toThrow("enough");
  });

  it("lets what waits have its turn while it runs, so that a signal from outside is heard", async () => {
    const stop = new AbortController();
    setTimeout(() => stop.abort(new Error("stopped")), 60);
    let steps = 0;
    const work = (function* (): Steps<void> {
      for (const step of count(2000, 5)) {
        steps++;
        yield step as undefined;
      }
    })();
    await expect(runStepsInTurns(work, { signal: stop.signal })).rejects.toThrow("stopped");
    expect(steps).toBeLessThan(2000);
  });
});
