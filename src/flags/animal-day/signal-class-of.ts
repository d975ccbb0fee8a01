import type { SignalClass, SignalKind } from "./signal.js";

const classes: Readonly<Record<SignalKind, SignalClass>> = {
  level: "statistical",
  gain: "statistical",
  "slowed gain": "statistical",
  "surprise average": "statistical",
  "surprise sum": "statistical",
  "loss from peak": "statistical",
  "too-fast gain": "statistical",
  "acute loss": "danger",
  "no feed": "danger",
  "missed feed": "practice",
  temperature: "danger",
  "no stool": "danger",
  "no urine": "danger",
  glucose: "danger",
  "repeated vomit": "danger",
  bloat: "danger",
  blood: "danger",
  convulsion: "danger",
  "cannot be roused": "danger",
  "not suckling": "danger",
  "trouble breathing": "danger",
  dehydrated: "danger",
  "watery stool": "danger",
  signs: "practice",
  "entry not read": "practice",
  loss: "practice",
  "no gain": "practice",
  "outside mass band": "practice",
  "eaten below plan": "practice",
  "eaten below habit": "practice",
  refusals: "practice",
  conversion: "practice",
  "scales disagree": "practice",
  "eaten above plan": "practice",
  "eaten above limit": "practice",
};

/** Every kind of signal. */
export const signalKinds = Object.keys(classes) as readonly SignalKind[];

/**
 * The class of a kind of signal: under the budget, a danger, or common practice.
 *
 * @example signalClassOf("no feed") // "danger"
 */
export function signalClassOf(kind: SignalKind): SignalClass {
  return classes[kind];
}
