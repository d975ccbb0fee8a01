import type { SignKind } from "../sign-kind.js";

export const bloat: SignKind = {
  kind: "bloat",
  holds: "event",
  itself: ["bloat", "bloated", "bloating", "distended", "distension", "distention", "tympany"],
  none: [
    "soft",
    "flat",
    "normal",
    "ok",
    "okay",
    "fine",
    "good",
    "abdomen soft",
    "belly soft",
    "soft belly",
    "soft abdomen",
  ],
  present: [
    "tight",
    "hard",
    "firm",
    "swollen",
    "gas",
    "gassy",
    "tympanic",
    "full of gas",
    "drum like",
    "burped",
  ],
  findings: [
    {
      finding: "bloat",
      says: ["swollen belly", "swollen abdomen", "tight belly", "tight abdomen", "hard belly"],
    },
  ],
  // "mild, settled in an hour": it was there.
  ownFindings: [
    { finding: "settled", says: ["settled", "settled in an hour", "resolved", "gone", "passed"] },
  ],
  looksIfUnread: true,
};
