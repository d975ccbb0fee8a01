import { describe, expect, it } from "vitest";
import { stillnessAsked } from "../../src/command-line/half-saved.js";
import { weighingsCsv } from "../records/small-study.js";

const bytes = (text: string) => new TextEncoder().encode(text);
const lines = weighingsCsv.trimEnd().split("\n");
const rows = (from: number, to?: number) => `${lines.slice(from, to).join("\n")}\n`;
const whole = `${lines[0]}\n${rows(1)}`;
const asked = (before: string, after: string | null, path = "weighings.csv") =>
  stillnessAsked(
    new Map([[path, bytes(before)]]),
    after === null ? [] : [{ path, bytes: bytes(after) }],
  );

describe("a table while it is saved", () => {
  it("at every byte of the way is waited for, and once it is whole it is not", () => {
    const longer = `${whole}${lines.at(-1)}\n`;
    for (let n = 0; n < longer.length; n++) {
      const half = longer.slice(0, n);
      // Begun anew over the old one; whole as it was, nothing can be told.
      if (half !== whole)
        expect(asked(whole, half), half.slice(-20)).toBeGreaterThanOrEqual(
          n > whole.length ? 0 : 2000,
        );
    }
    expect(asked(whole, longer)).toBe(0);
  });

  it("ends within a row only while it is saved, so that a slow drive may pause there", () => {
    expect(asked(whole, whole.slice(0, -7))).toBe(10_000);
    // Another reading in an early row, and cut further on.
    const corrected = whole.replace("b1", "b2").slice(0, -9);
    expect(asked(whole, corrected.slice(0, corrected.lastIndexOf(",")))).toBe(10_000);
    // New rows of which the last is cut.
    expect(asked(whole, `${whole}P2,2025-03-08`)).toBe(10_000);
  });

  it("that has gone, or lost rows at its end, may have on purpose", () => {
    expect(asked(whole, null)).toBe(2000);
    expect(asked(whole, rows(0, -1))).toBe(2000);
    expect(asked("", "")).toBe(0);
  });

  it("is taken at once where a row was added, corrected or taken out of the middle", () => {
    expect(asked(whole, `${whole}P2,2025-03-08 07:00,1500,0,b1,carried,dry,before,\n`)).toBe(0);
    expect(asked(whole, whole.replace("b1", "b2"))).toBe(0);
    expect(asked(whole, `${lines[0]}\n${rows(2)}`)).toBe(0);
    // A program that writes no last line end, and one that never did.
    expect(asked(whole, whole.replace("b1", "b2").trimEnd())).toBe(0);
    expect(asked(whole.trimEnd(), `${whole}${lines.at(-1)}`)).toBe(0);
  });
});
