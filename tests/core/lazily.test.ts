import { describe, expect, it } from "vitest";
import { lazily } from "../../src/core/lazily.js";

describe("a part that is worked out when it is read", () => {
  it("is worked out once, and not before anybody reads it", () => {
    let times = 0;
    const gain = lazily({ recent: 3 }, "daily", () => {
      times++;
      return [1, 2];
    });
    expect(times).toBe(0);
    expect(gain.daily).toEqual([1, 2]);
    expect(gain.daily).toBe(gain.daily);
    expect(times).toBe(1);
  });

  it("is listed, copied and written as all others are, also where it is nothing", () => {
    const gain = lazily({ recent: 3 }, "daily", () => null);
    expect(Object.keys(gain)).toEqual(["recent", "daily"]);
    expect({ ...gain }).toStrictEqual({ recent: 3, daily: null });
    expect(structuredClone(gain)).toStrictEqual({ recent: 3, daily: null });
    expect(JSON.stringify(Object.freeze(gain))).toBe('{"recent":3,"daily":null}');
  });
});
