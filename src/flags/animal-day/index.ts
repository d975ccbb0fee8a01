export type { AnimalDay, NotJudged } from "./flag.js";
export type { Signal, SignalClass, SignalKind } from "./signal.js";
