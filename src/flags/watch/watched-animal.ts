/** One animal as plain numbers, in order of time: what the watching of a group reads. */
export interface WatchedAnimal {
  readonly id: string;
  /** Its season: what it is watched within; those before it say what is expected. Default: one for all. */
  readonly season?: string | null;
  /** Age in days (days since admission where the age is unreliable), not whole days. */
  readonly time: Float64Array;
  /** Number of the feeding day of each value. */
  readonly day: Int32Array;
  readonly logMass: Float64Array;
  /** Known variance of ln mass beyond what the group estimates for itself. */
  readonly knownVariance: Float64Array;
  /** 1 where the value follows days that say nothing of gain (a fast): its level starts anew. */
  readonly anew?: Uint8Array;
  /** 1 where the value belongs to the healthy reference of the others. */
  readonly serves: Uint8Array;
  /** The same once the record has ended and what followed is known; from that day on. */
  readonly ended?: { readonly day: number; readonly serves: Uint8Array } | null;
  /** False where the age is unknown or estimated from mass: then no level, and others near in mass. */
  readonly ageReliable?: boolean;
}
