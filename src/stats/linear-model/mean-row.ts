import type { DesignVariables, FixedDesign } from "./design.js";

/**
 * The design row behind one adjusted mean; differences of two rows are their contrast.
 *
 * @example
 * const diet = { kind: "factor", values: ["a", "b", "b"] };
 * meanRow(buildDesign({ diet }, [["diet"]]), { diet }, "diet", "b")[1] // 1
 */
export function meanRow(
  design: FixedDesign,
  variables: DesignVariables,
  of: string,
  name: string,
  at: Readonly<Record<string, number>> = {},
): Float64Array {
  let grid: Record<string, string | number>[] = [{ [of]: name }];
  for (const [key, v] of Object.entries(variables)) {
    if (key === of) continue;
    if (v.kind === "factor") {
      const levels = design.levels[key]!;
      grid = grid.flatMap((g) => levels.map((l) => ({ ...g, [key]: l })));
    } else {
      let sum = 0;
      for (let i = 0; i < v.values.length; i++) sum += v.values[i]!;
      const value = at[key] ?? sum / v.values.length;
      grid = grid.map((g) => ({ ...g, [key]: value }));
    }
  }
  const out = new Float64Array(design.names.length);
  for (const g of grid) {
    const row = design.rowAt(g);
    for (let j = 0; j < out.length; j++) out[j]! += row[j]! / grid.length;
  }
  return out;
}
