import { sameRecords } from "../../core/same-content.js";
import type { Sign } from "./sign.js";

/** Whether two readings of a sign say the same, field by field, the line that was read included. */
export const sameSign = sameRecords<Sign>({
  row: {
    origin: { file: true, line: true, cell: true },
    unread: true,
    animalId: true,
    at: true,
    kind: true,
    value: true,
    valueText: true,
    unit: true,
    notes: true,
    decided: true,
  },
  kind: true,
  at: true,
  written: true,
  state: true,
  sure: true,
  measure: true,
  count: true,
  amount: true,
  findings: true,
  saidInWords: true,
  question: true,
});
