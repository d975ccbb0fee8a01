import { describe, expect, it } from "vitest";
import { levelDue, lossSeen } from "./loss-of-a-day.js";

// Limits of 5 and 10 % are common practice. Seeds 20261400 and on stood here before the first run.
describe("a true loss from one day to the next (seeded; the full simulation is a bench)", () => {
  const order = ["nothing", "look", "danger"] as const;
  it("reaches its level in at least 95 of 100, doubted or not", () => {
    for (const noise of [0.005, 0.01]) {
      for (const pct of [8, 14, 20]) {
        const share = pct / 100;
        const due = order.indexOf(levelDue(share, noise));
        expect(due).toBeGreaterThan(0);
        const seen = Array.from({ length: 120 }, (_, k) =>
          lossSeen(20_261_400 + k, { days: 40, noise }, share),
        );
        const reached = (list: typeof seen) =>
          list.filter((s) => order.indexOf(s.level) >= due).length / list.length;
        expect(reached(seen), `${pct} % at ${noise}`).toBeGreaterThanOrEqual(0.95);
        const doubted = seen.filter((s) => s.doubted);
        if (pct === 20) expect(doubted.length).toBeGreaterThan(60);
        if (doubted.length > 40) expect(reached(doubted)).toBeGreaterThanOrEqual(0.95);
      }
    }
  });
  it("is not raised where there is none", () => {
    const seen = Array.from({ length: 400 }, (_, k) =>
      lossSeen(20_261_600 + k, { days: 40, noise: 0.01 }, 0),
    );
    expect(seen.filter((s) => s.level !== "nothing").length).toBeLessThanOrEqual(2);
  });
});
