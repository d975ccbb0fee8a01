import type { RealAnswer } from "../../src/analysis/real-answer.js";
import type { DecisiveFinding } from "../../src/analysis/what-would-change.js";
import { judgedSignal } from "../../src/flags/animal-day/judged-signals.js";
import type { Signal } from "../../src/flags/animal-day/signal.js";
import type { PerStatistic } from "../../src/flags/watch/watched-day.js";

/**
 * Readings of evidence and statistics that must not compile, beside the one that
 * does. `npm run types` reads this file.
 */
export const refused: readonly ((s: Signal, a: RealAnswer, f: DecisiveFinding) => unknown)[] = [
  (s) => s.kind === "no feed" && s.evidence.gapH,
  // @ts-expect-error Read before the kind was asked for.
  (s) => s.evidence.gapH,
  // @ts-expect-error Of another kind.
  (s) => s.kind === "temperature" && s.evidence.gapH,
  // @ts-expect-error Misspelt.
  (s) => s.kind === "no feed" && s.evidence.gapHours,
  // @ts-expect-error A kind that is none.
  (s) => s.kind === "feeding gap",
  // @ts-expect-error The signal found by its kind has that kind's evidence only.
  () => judgedSignal(null, "slowed gain")?.evidence.gapH,
  // @ts-expect-error Of another question.
  (_, a) => a.question === "coat" && a.evidence.afterMeal,
  // @ts-expect-error Of another finding.
  (_, __, f) => f.finding === "second scale" && f.evidence.knownG,
];

export const byPosition: readonly ((statistics: PerStatistic) => unknown)[] = [
  (statistics) => statistics["slowed gain"],
  // @ts-expect-error A statistic has a name, not a place.
  (statistics) => statistics[0],
  // @ts-expect-error Misspelt.
  (statistics) => statistics["slow gain"],
];
