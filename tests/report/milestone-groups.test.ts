import { expect, it } from "vitest";
import {
  milestoneComparisonTable,
  milestoneGroupsTable,
} from "../../src/report/seasons/milestone-comparison-table.js";

const one = {
  milestone: "first solid",
  seen: 4,
  restrictedMean: { value: 30, until: 40 },
  shares: [{ seen: 1, died: 0, left: 0 }],
  groups: {
    names: ["north 2023", "north 2024", "pool; old"],
    observed: [2, 1, 1],
    expected: [1.25, 1.5, 1.25],
    p: 0.4,
    betweenLooks: { p: 0.5 },
  },
  model: null,
};
const overview = {
  value: {
    species: "sea otter",
    adjustedP: [0.4, null],
    milestones: [one, { ...one, milestone: "first dive", groups: null }],
  },
} as unknown as Parameters<typeof milestoneGroupsTable>[0];

it("milestones by group are a row a group, and no cell of the comparison lists several values", () => {
  expect(milestoneGroupsTable(overview).rows).toEqual([
    ["first solid", "north 2023", 2, 1.25],
    ["first solid", "north 2024", 1, 1.5],
    ["first solid", "pool; old", 1, 1.25],
  ]);
  for (const cell of milestoneComparisonTable(overview).rows.flat())
    if (typeof cell === "string") expect(cell).not.toMatch(/[;:]/);
});
