import { describe, expect, it } from "vitest";
import { endLabels } from "../../src/charts/end-labels.js";
import { niceDomain } from "../../src/charts/nice-domain.js";

const plot = { range: 100, height: 100, from: 0, x: {}, y: {} };
const rowsOf = (labels: readonly [string, number][], more = {}) => {
  const given = labels.map(([label, y]) => ({ label, x: 1, y, colour: "#000000" }));
  const [layer] = endLabels(given, { ...plot, ...more });
  return (layer!["data"] as { values: { label: string; at: number }[] }).values;
};

describe("names at the ends of lines", () => {
  it("stand a line apart and not above the head of the plot", () => {
    const rows = rowsOf([
      ["a", 99],
      ["b", 98],
      ["c", 97],
      ["d", 20],
    ]);
    const at = rows.map((r) => r.at).sort((p, q) => p - q);
    for (const [i, y] of at.entries()) if (i > 0) expect(y - at[i - 1]!).toBeGreaterThanOrEqual(15);
    expect(at.at(-1)!).toBeLessThanOrEqual(100);
    expect(rows.find((r) => r.label === "d")!.at).toBe(20);
  });

  it("go on in another line where there is no room, and keep every word", () => {
    const rows = rowsOf([["one two three", 50]], { width: 60 });
    expect(rows.length).toBeGreaterThan(1);
    expect(rows.map((r) => r.label).join(" ")).toBe("one two three");
  });
});

describe("niceDomain", () => {
  it("holds every value, and goes no further than the marks around them", () => {
    for (const values of [[0, 1002], [2140, 2975], [37.6, 38], [-20, 61], [5]]) {
      const { domain, step } = niceDomain(values, 4);
      expect(domain[0]).toBeLessThanOrEqual(Math.min(...values));
      expect(domain[1]).toBeGreaterThanOrEqual(Math.max(...values));
      expect(domain[0]).toBeGreaterThanOrEqual(Math.floor(Math.min(...values) / step) * step - 1);
    }
  });
});
