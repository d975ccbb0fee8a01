import type { CivilDate } from "../../series/animal-series.js";
import type { FeedingDaySpan } from "../../units/calendar.js";
import type { NotJudged } from "../animal-day/flag.js";
import type { PreparedAnimal } from "../animal-day/prepared-animal.js";
import { isInUsualFast, longestFastD, type PhaseOn } from "../animal-day/settled-days.js";
import type { Signal } from "../animal-day/signal.js";
import { dangerSignals } from "./danger-signals.js";
import { feedingSignals } from "./feeding-signals.js";
import { massBandSignal } from "./mass-band-signal.js";
import { noGainSignal } from "./no-gain-signal.js";
import type { RuleLimits } from "./rule-limits.js";
import { scalesSignal } from "./scales-signal.js";
import type { WhatIsWritten } from "./what-is-written.js";

/**
 * What every rule outside the budget says of one animal on one day, the conversion
 * apart. Rules know the phase: a fast that is not longer than its species' fasts
 * mutes what is said of feeds and gain, a longer one does not.
 */
export function ruleOutcomes(
  animal: PreparedAnimal,
  day: CivilDate,
  span: FeedingDaySpan,
  phaseOn: PhaseOn,
  written: WhatIsWritten,
  limits: RuleLimits,
  /** Whether what is not raised is wanted, too: where it is not, rules may leave it out. */
  quietToo = true,
): readonly (Signal | NotJudged)[] {
  const fasting = isInUsualFast(phaseOn, day, longestFastD(animal.profile));
  const phase = phaseOn(day);
  const gains = phase !== "arrival" && phase !== "post-weaning fast";
  const banded = animal.settings.massBands?.[animal.id] !== undefined;
  return [
    // Whose band of mass the veterinarian set is not asked to gain: the band is its course.
    ...(gains && !banded ? noGainSignal(animal, day, phaseOn, limits) : []),
    ...massBandSignal(animal, day),
    ...dangerSignals(animal, day, span, written, limits, quietToo).filter(
      (o) => !(fasting && (o.kind === "no feed" || o.kind === "missed feed")),
    ),
    ...feedingSignals(animal, day, phaseOn, limits),
    ...scalesSignal(animal, span, limits),
  ];
}
