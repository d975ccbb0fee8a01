import type { SignKind, SignMeasuring } from "../sign-kind.js";

/** An inch is 2.54 cm exactly (international yard and pound agreement, 1959). */
const centimetres: SignMeasuring = {
  own: "cm",
  units: [
    { name: "cm", spellings: ["cm", "cms", "centimetre", "centimetres", "centimeters"], scale: 1 },
    { name: "mm", spellings: ["mm", "millimetre", "millimetres", "millimeters"], scale: 0.1 },
    { name: "m", spellings: ["m", "metre", "metres", "meter", "meters"], scale: 100 },
    { name: "in", spellings: ["in", "inch", "inches", '"', "''", "″"], scale: 2.54 },
    { name: "ft", spellings: ["ft", "foot", "feet", "'"], scale: 30.48 },
  ],
  possible: [5, 400],
  usual: [20, 250],
  low: [],
  high: [],
};

export const length: SignKind = {
  kind: "length",
  holds: "measured",
  itself: ["length", "standard length", "curvilinear length", "total length"],
  none: [],
  present: [],
  findings: [],
  measuring: centimetres,
};

export const girth: SignKind = {
  kind: "girth",
  holds: "measured",
  itself: ["girth", "axillary girth", "chest girth"],
  none: [],
  present: [],
  findings: [],
  measuring: centimetres,
};

/** A score on the scale that is written beside it; without one the scale is not known. */
export const conditionScore: SignKind = {
  kind: "condition score",
  holds: "measured",
  itself: ["condition score", "body condition", "bcs", "score"],
  none: [],
  present: [],
  findings: [],
  measuring: {
    own: "of 5",
    units: [
      { name: "of 5", spellings: ["of 5", "/5", "/ 5", "out of 5", "1-5", "of five"], scale: 1 },
      {
        name: "of 9",
        spellings: ["of 9", "/9", "/ 9", "out of 9", "1-9", "of nine"],
        scale: 5 / 9,
      },
    ],
    possible: [0, 5],
    usual: [1, 5],
    low: ["emaciated", "very thin", "skin and bone"],
    high: ["obese", "very fat"],
  },
};
