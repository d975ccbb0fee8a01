import type { SignKind } from "../sign-kind.js";

export const convulsion: SignKind = {
  kind: "convulsion",
  holds: "event",
  itself: [
    "convulsion",
    "convulsions",
    "convulsing",
    "convulsed",
    "seizure",
    "seizures",
    "seizing",
    "seized",
    "fitting",
    "fits",
    "had a fit",
    "having a fit",
    "paddling",
    "tonic clonic",
  ],
  none: ["stopped"],
  present: ["head", "whole body", "mild", "short", "brief", "long", "status"],
  findings: [{ finding: "convulsion", says: ["opisthotonos", "status epilepticus"] }],
  looksIfUnread: true,
};
