import { afterEach, describe, expect, it, vi } from "vitest";
import { formerName } from "../../src/core/former-name.js";
import * as stats from "../../src/stats/index.js";

describe("a function under its former name", () => {
  afterEach(() => vi.restoreAllMocks());

  it("works as today's and says once what replaces it", () => {
    const warn = vi.spyOn(console, "warn").mockImplementation(() => undefined);
    const sum = formerName("room.plus", "room.add", (a: number, b: number) => a + b);
    expect([sum(1, 2), sum(3, 4)]).toEqual([3, 7]);
    expect(warn).toHaveBeenCalledTimes(1);
    expect(warn.mock.calls[0]![0]).toMatch(/room\.plus is now called room\.add/);
  });

  it("gives the same answer as the name that replaced it", () => {
    vi.spyOn(console, "warn").mockImplementation(() => undefined);
    expect(stats.twoShareTest([8, 1], [10, 10])).toEqual(stats.twoProportionTest([8, 1], [10, 10]));
    expect(stats.exactShareInterval(2, 10)).toEqual(stats.exactProportionInterval(2, 10));
  });
});
