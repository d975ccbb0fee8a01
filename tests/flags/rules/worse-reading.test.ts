import { describe, expect, it } from "vitest";
import { worseReading } from "../../../src/flags/rules/worse-reading.js";
import type { NetWeighing } from "../../../src/series/animal-series.js";

/** No body loses more than 30 % in a day or two (own choice): below that a slip is taken for one. */
const doubted = (netG: number, suggestedG: number | null, kind = "digits swapped") =>
  ({ netG, slip: { kind, suggestedG } }) as unknown as NetWeighing;

describe("a doubted mass after one of 2,000 g", () => {
  it("counts as the lower of what was written and what its slip suggests", () => {
    expect(worseReading(doubted(1700, 1900), 2000)).toBe(1700);
    expect(worseReading(doubted(1900, 1700), 2000)).toBe(1700);
    expect(worseReading(doubted(1700, null), 2000)).toBe(1700);
  });

  it("is what its slip suggests where no body can have lost so much", () => {
    expect(worseReading(doubted(1400, 1900), 2000)).toBe(1400);
    expect(worseReading(doubted(1399, 1900), 2000)).toBe(1900);
    // Nothing is suggested: then what was written counts, however little it is.
    expect(worseReading(doubted(190, null), 2000)).toBe(190);
  });

  it("of another day counts where this day can have it, else not at all", () => {
    expect(worseReading(doubted(1400, null, "wrong day"), 2000)).toBe(1400);
    expect(worseReading(doubted(1399, null, "wrong day"), 2000)).toBeNull();
  });

  it("that was never taken for a slip counts as written", () => {
    expect(worseReading({ netG: 900, slip: null } as unknown as NetWeighing, 2000)).toBe(900);
  });
});
