import type { SignKind } from "../sign-kind.js";

/** Blood, wherever it was seen. A blood sample is none. */
export const blood: SignKind = {
  kind: "blood",
  holds: "event",
  itself: [
    "blood",
    "bloody",
    "blood tinged",
    "blood streaked",
    "blood stained",
    "bloodstained",
    "blood spots",
    "bleeding",
    "bleeds",
    "bled",
    "haemorrhage",
    "hemorrhage",
    "haemorrhagic",
    "hemorrhagic",
    "fresh blood",
    "frank blood",
    "coffee grounds",
  ],
  none: ["stopped"],
  present: ["stool", "urine", "vomit", "mouth", "nose", "wound", "umbilicus", "spots", "streaks", "red", "clots"],
  findings: [{ finding: "blood", says: ["melaena", "melena", "haematuria", "hematuria"] }],
  looksIfUnread: true,
};
