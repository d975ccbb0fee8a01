import type { Finding } from "../series/signs/sign.js";

/** What somebody is to do at once about a danger. */
export type DangerAct = "do not feed until spoken" | "call now, feed as ordered";

/** Names of what signs raise; a danger has its own name, the rest stands under two. */
export type AlertKind =
  | "glucose"
  | "repeated vomit"
  | "bloat"
  | "blood"
  | "convulsion"
  | "cannot be roused"
  | "not suckling"
  | "trouble breathing"
  | "dehydrated"
  | "watery stool"
  | "signs"
  | "entry not read";

/**
 * Limits of the signs. None is from a source for these species: they are common
 * practice in the care of young mammals, from memory, to be set by the attending
 * veterinarian; `null` switches one off.
 */
export interface SignLimits {
  /** Blood glucose, mg/dL: danger below and above, second look below and above. */
  readonly glucoseDanger: readonly [number, number] | null;
  readonly glucoseLook: readonly [number, number] | null;
  /** Vomit so often within so many hours is a danger. */
  readonly vomits: number | null;
  readonly vomitsWithinH: number;
  /** So many vomits in 24 h are a danger however far apart. */
  readonly vomitsIn24H: number | null;
  /** Body condition looked at up to this score, of 5; a score of 9 is put on that scale. */
  readonly conditionLook: number | null;
  /** So many soft stools in 24 h ask for a look, so many watery ones for a call. */
  readonly softStools: number | null;
  readonly wateryStools: number | null;
  /** So many regurgitations in 24 h ask for a look. */
  readonly regurgitations: number | null;
}

export const defaultSignLimits: SignLimits = {
  glucoseDanger: [40, 400],
  glucoseLook: [60, 250],
  vomits: 2,
  vomitsWithinH: 6,
  vomitsIn24H: 3,
  conditionLook: 1.5,
  softStools: 3,
  wateryStools: 3,
  regurgitations: 3,
};

/** Findings that are a danger by themselves, and what is done about each. */
export const dangerFindings: Readonly<
  Partial<Record<Finding, { readonly what: AlertKind; readonly act: DangerAct }>>
> = {
  "cannot be roused": { what: "cannot be roused", act: "do not feed until spoken" },
  "not suckling": { what: "not suckling", act: "do not feed until spoken" },
  convulsion: { what: "convulsion", act: "do not feed until spoken" },
  bloat: { what: "bloat", act: "do not feed until spoken" },
  "trouble breathing": { what: "trouble breathing", act: "do not feed until spoken" },
  blood: { what: "blood", act: "call now, feed as ordered" },
  dehydrated: { what: "dehydrated", act: "call now, feed as ordered" },
};

/** Findings that ask for a second look. */
export const lookFindings: readonly Finding[] = [
  "lethargic",
  "weak",
  "weak suckle",
  "not eating",
  "shivering",
  "slightly dehydrated",
  "watery stool",
  "hard stool",
  "constipated",
  "straining",
  "foul stool",
  "mucus",
];
