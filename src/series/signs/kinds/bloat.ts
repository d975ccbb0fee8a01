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
    "resolved",
    "gone",
    "settled",
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
    "settled in an hour",
    "drum like",
    "burped",
  ],
  findings: [
    {
      finding: "bloat",
      says: ["swollen belly", "swollen abdomen", "tight belly", "tight abdomen", "hard belly"],
    },
  ],
  looksIfUnread: true,
};
