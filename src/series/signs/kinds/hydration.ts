import type { SignKind } from "../sign-kind.js";

export const hydration: SignKind = {
  kind: "hydration",
  holds: "state",
  itself: ["hydration"],
  none: [],
  present: [],
  well: [
    {
      says: [
        "good",
        "normal",
        "ok",
        "okay",
        "fine",
        "adequate",
        "moist",
        "gums moist",
        "moist gums",
        "pink and moist",
        "skin tent normal",
        "brisk",
      ],
      denied: "slightly dehydrated",
      here: true,
    },
    { says: ["hydrated", "well hydrated", "euhydrated"], denied: "dehydrated" },
  ],
  // Veterinary textbook, from memory: under 5 % cannot be seen, 8 % and more is marked.
  percent: [
    { from: 0, finding: null },
    { from: 5, finding: "slightly dehydrated" },
    { from: 8, finding: "dehydrated" },
  ],
  findings: [
    {
      finding: "slightly dehydrated",
      says: [
        "slightly dehydrated",
        "mildly dehydrated",
        "a little dehydrated",
        "bit dehydrated",
        "mild dehydration",
        "slight dehydration",
        "minimally dehydrated",
      ],
    },
    {
      finding: "dehydrated",
      says: [
        "dehydrated",
        "dehydration",
        "severely dehydrated",
        "very dehydrated",
        "moderately dehydrated",
        "severe dehydration",
        "moderate dehydration",
        "sunken eyes",
        "eyes sunken",
        "skin tent prolonged",
        "prolonged skin tent",
        "skin tenting",
        "skin tents",
        "tacky gums",
        "gums tacky",
        "dry gums",
        "gums dry",
        "dry mucous membranes",
      ],
    },
  ],
  ownFindings: [
    { finding: "slightly dehydrated", says: ["mild", "slight", "fair"] },
    {
      finding: "dehydrated",
      says: ["moderate", "severe", "marked", "poor", "bad", "dry", "tacky", "sunken", "prolonged"],
    },
  ],
  looksIfUnread: true,
};
