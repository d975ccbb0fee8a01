import type { ObservationKind } from "../../../records/study.js";
import type { SignKind } from "../sign-kind.js";

/** Words of people: shown as they stand, and looked through for dangers. */
const words = (kind: ObservationKind): SignKind => ({
  kind,
  holds: "free",
  itself: [],
  none: [],
  present: [],
  findings: [],
});

export const exam = words("exam");
export const swim = words("swim");
export const groom = words("groom");
export const note = words("note");

/** The name of the milestone stands in the notes; the value says whether it was seen. */
export const milestone: SignKind = {
  ...words("milestone"),
  none: ["not yet", "not seen", "no", "none"],
  present: ["seen", "yes", "reached", "done"],
};
