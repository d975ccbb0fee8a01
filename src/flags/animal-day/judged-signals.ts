import type { AnimalDay } from "./flag.js";
import type { Signal, SignalKind } from "./signal.js";

/** Every signal that was judged on an animal's day, raised ones first; none without a day. */
export function judgedSignals(day: AnimalDay | null | undefined): readonly Signal[] {
  return day == null ? [] : [...day.raised, ...day.within];
}

/** One of them, raised or not; null where it was not judged. */
export function judgedSignal(day: AnimalDay | null | undefined, kind: SignalKind): Signal | null {
  return judgedSignals(day).find((s) => s.kind === kind) ?? null;
}
