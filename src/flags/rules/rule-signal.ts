import type { SignalKind, SignalOf } from "../animal-day/signal.js";

/**
 * Makes the signal of a rule that stands outside the budget of false flags: a
 * danger, or common practice. Its sentence is a problem only while it is raised.
 *
 * @example ruleSignal({ class: "danger", kind: "no feed", raised: true, ... }).sentence.level // "problem"
 */
export function ruleSignal<Kind extends SignalKind>(
  signal: SignalOf<Kind> & { readonly class: "danger" | "practice" },
): SignalOf<Kind> {
  return {
    ...signal,
    sentence: { ...signal.sentence, level: signal.raised ? "problem" : "info" },
  };
}
