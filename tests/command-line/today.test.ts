import { describe, expect, it } from "vitest";
import { today } from "../../src/command-line/today.js";

describe("today", () => {
  it("is the day on the wall, from its first minute to its last", () => {
    expect(today(new Date(2025, 4, 2, 0, 1))).toBe("2025-05-02");
    expect(today(new Date(2025, 4, 2, 23, 59))).toBe("2025-05-02");
    expect(today(new Date(2024, 1, 29, 12))).toBe("2024-02-29");
  });
});
