import { describe, expect, it } from "vitest";
import { agreement } from "./agreement.js";
import { type Comparison, digitsOf } from "./comparison.js";

const all = agreement();

/** Fewer digits than six are all there is: where the outside number is printed or computed so. */
function least({ source, what, quantity }: Comparison): number {
  // The data of these sets are rounded in a double before any arithmetic starts.
  if (/Filip/.test(what)) return 7;
  if (/NumAcc4|SmLs04/.test(what)) return 8;
  if (/SmLs07/.test(what)) return 2;
  if (source.startsWith("NIST")) return quantity.includes("standard deviation") ? 6 : 8;
  if (/ptukey/.test(what)) return 5.5;
  if (/Laplace/.test(what)) return 5.5;
  if (/table 5-2|as printed since/.test(what)) return 3.5;
  return 6;
}

describe("numbers from outside the project", () => {
  it("are several hundred from six sources or more", () => {
    expect(all.length).toBeGreaterThan(700);
    expect(new Set(all.map((each) => each.source)).size).toBeGreaterThanOrEqual(6);
  });

  it("agree to the digits that are there", () => {
    const short = all
      .filter((each) => !(digitsOf(each) >= least(each)))
      .map((each) => ({ ...each, digits: digitsOf(each) }));
    expect(short).toEqual([]);
  });

  it("would be seen to disagree", () => {
    expect(digitsOf({ ...all[0]!, expected: 1, got: 1.001 })).toBeCloseTo(3, 6);
    expect(digitsOf({ ...all[0]!, expected: 1, got: Number.NaN })).toBe(0);
    expect(digitsOf({ ...all[0]!, expected: 1, got: -5 })).toBe(0);
  });
});
