import type { SignKind } from "../sign-kind.js";

/** Blood glucose. 1 mmol/L is 18.016 mg/dL: the molar mass of glucose is 180.16 g/mol. */
export const glucose: SignKind = {
  kind: "glucose",
  holds: "measured",
  itself: ["glucose", "blood glucose", "blood sugar", "sugar", "bg", "glu", "gluc", "bsl"],
  none: [],
  present: [],
  findings: [],
  looksIfUnread: true,
  measuring: {
    own: "mg/dL",
    units: [
      {
        name: "mg/dL",
        spellings: ["mg/dl", "mg dl", "mgdl", "mg per dl", "mg/100ml", "mg/100 ml", "mg%", "mg %"],
        scale: 1,
      },
      {
        name: "mmol/L",
        spellings: ["mmol/l", "mmol l", "mmoll", "mmol", "mm/l", "mm", "mmol per l", "millimol/l"],
        scale: 18.016,
      },
      { name: "g/L", spellings: ["g/l", "g l"], scale: 100, onlyWritten: true },
    ],
    possible: [1, 900],
    credible: [10, 700],
    usual: [40, 400],
    low: ["lo", "low", "too low", "below range"],
    high: ["hi", "high", "too high", "above range"],
  },
};
