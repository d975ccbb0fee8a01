import type { AnimalDay } from "./flag.js";
import type { Signal, SignalKind } from "./signal.js";

/** Every signal that was judged on an animal's day, raised ones first; none without a day. */
export function judgedSignals(day: AnimalDay | null | undefined): readonly Signal[] {
  return day == null ? [] : [...day.raised, ...day.within];
}

/** One of them, raised or not; null where it was not judged. */
export function judgedSignal<Kind extends SignalKind>(
  day: AnimalDay | null | undefined,
  kind: Kind,
): Signal<Kind> | null {
  const is = (s: Signal): s is Signal<Kind> => s.kind === kind;
  return judgedSignals(day).find(is) ?? null;
}
