import type { MilestoneDescription } from "../../seasons/milestone-description.js";
import type { Cell, Column } from "../section/section.js";

/** In what a milestone is counted, and what became of the animals: the same in every table of milestones. */
export const milestoneCountColumns: readonly Column[] = [
  { title: "Counted in" },
  { title: "n", align: "number" },
  { title: "Seen", align: "number" },
  { title: "Still in care without it", align: "number" },
  { title: "Died before", align: "number" },
  { title: "Left before", align: "number" },
];

/** The cells under {@link milestoneCountColumns}. */
export function milestoneCounts(m: MilestoneDescription): readonly Cell[] {
  return [
    m.scale === "age" ? "days of age" : "days since admission",
    m.n,
    m.seen,
    m.stillInCare,
    m.died,
    m.left,
  ];
}
