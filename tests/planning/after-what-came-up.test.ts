import { describe, expect, it } from "vitest";
import { cameUpSince } from "../../src/planning/after-what-came-up.js";
import { readSign } from "../../src/series/signs/read-sign.js";
import { rowOf } from "../series/signs/row-of.js";

const hour = 3_600_000;
const now = Date.UTC(2025, 4, 12, 8);
/** A line written so many hours before now. */
const ago = (hours: number, kind = "vomit", value = "yes", notes: string | null = null) =>
  readSign(rowOf(kind, value, "", notes, now - hours * hour), { decimal: "point" });
const since = (...signs: ReturnType<typeof ago>[]) => {
  const at = cameUpSince(signs, now);
  return at === null ? null : (now - at) / hour;
};

// The rule is the project's own: what came up is waited for over 24 h, and a run of it
// counts from its first time.
describe("since when something came up", () => {
  it("is nothing where nothing did, or only what is over", () => {
    expect(since()).toBeNull();
    expect(since(ago(25))).toBeNull();
    // To the instant: 24 h ago is over.
    expect(since(ago(24))).toBeNull();
    expect(since(ago(23.99))).toBe(23.99);
  });

  it("is the first of a run, each within 24 h of the next, whatever else was written between", () => {
    expect(since(ago(60), ago(40), ago(30, "stool", "normal"), ago(20), ago(2))).toBe(60);
    // 24 h apart is no run; the older one is over.
    expect(since(ago(44), ago(20))).toBe(20);
    expect(since(ago(43.99), ago(20))).toBe(43.99);
    // The very first line of all counts too, alone and as the begin of a run.
    expect(since(ago(5))).toBe(5);
  });

  it("takes regurgitation, and either where a line of another kind tells of it", () => {
    expect(since(ago(6, "regurgitation"))).toBe(6);
    expect(since(ago(7, "exam", "vomited after the feed"))).toBe(7);
    expect(since(ago(8, "note", "", "regurgitated a little"))).toBe(8);
    expect(since(ago(8, "stool", "normal"))).toBeNull();
  });

  it("takes a line in doubt, and none that says none", () => {
    expect(since(ago(6, "vomit", "none"))).toBeNull();
    expect(since(ago(6, "regurgitation", "no"))).toBeNull();
    expect(since(ago(6, "vomit", "hm?"))).toBe(6);
  });

  it("looks at nothing later than the instant, and at the instant itself", () => {
    expect(since(ago(0))).toBe(0);
    expect(since(ago(-1))).toBeNull();
    expect(since(ago(3), ago(-1))).toBe(3);
    // What comes later joins no run to what is over.
    expect(since(ago(30), ago(-1))).toBeNull();
  });
});
