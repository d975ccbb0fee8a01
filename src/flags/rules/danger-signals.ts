import type { CivilDate } from "../../series/animal-series.js";
import type { FeedingDaySpan } from "../../units/calendar.js";
import { dayMs } from "../../units/day-ms.js";
import type { NotJudged } from "../animal-day/flag.js";
import type { PreparedAnimal } from "../animal-day/prepared-animal.js";
import type { Signal } from "../animal-day/signal.js";
import { acuteLossSignal } from "./acute-loss-signal.js";
import { excretionSignal } from "./excretion-signal.js";
import { feedGapSignal } from "./feed-gap-signal.js";
import type { RuleLimits } from "./rule-limits.js";
import { signSignals } from "./sign-signals.js";
import { temperatureSignal } from "./temperature-signal.js";
import type { WhatIsWritten } from "./what-is-written.js";

/**
 * The single-observation danger rules of one animal on one day: temperature
 * outside the species range, no stool or urine recorded for N hours, a gap in
 * the feeds, an acute loss. They stand outside the budget of false flags and are
 * never thinned by it. A rule without the records it needs is not judged.
 */
export function dangerSignals(
  animal: PreparedAnimal,
  day: CivilDate,
  span: FeedingDaySpan,
  written: WhatIsWritten,
  limits: RuleLimits,
  /** Whether what is not raised is wanted, too. */
  quietToo: boolean,
): readonly (Signal | NotJudged)[] {
  const { birth } = animal.series.age;
  const ageD = birth === null ? null : (span.from - birth) / dayMs;
  return [
    ...temperatureSignal(animal, day, limits),
    ...signSignals(animal, day),
    ...excretionSignal(animal, day, span, ageD, "stool", written, limits),
    ...excretionSignal(animal, day, span, ageD, "urine", written, limits),
    ...feedGapSignal(animal, span, ageD, written, limits, quietToo),
    ...acuteLossSignal(animal, day, limits),
  ];
}
