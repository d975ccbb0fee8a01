import type { Measured } from "../../core/measured.js";
import { type Notice, notice } from "../../core/notice.js";
import { gainOverWindow } from "../../rates/gain-over-window.js";
import type { CivilDate } from "../../series/animal-series.js";
import { bandAt } from "../../species/age-band.js";
import type { NotJudged } from "../animal-day/flag.js";
import type { PreparedAnimal } from "../animal-day/prepared-animal.js";
import { rowUpTo } from "../animal-day/row-up-to.js";
import { isSettled, type PhaseOn } from "../animal-day/settled-days.js";
import type { Signal } from "../animal-day/signal.js";
import type { RuleLimits } from "./rule-limits.js";
import { ruleSignal } from "./rule-signal.js";

/** Widenings of the window, and standard errors that an expected gain must be worth. */
const widenings = [1, 1.5, 2];
const worth = 2.5;

/**
 * No gain for N days (common practice, editable): the slope of the daily mass over
 * the last N days is not above zero. Where so few weighings cannot tell no gain
 * from the gain expected of the species, the window widens, to twice N at most, and
 * then the rule is not judged. A window that reaches into arrival or a fast is not
 * judged either: what was lost and won back there is no growth.
 */
export function noGainSignal(
  animal: PreparedAnimal,
  day: CivilDate,
  phaseOn: PhaseOn,
  limits: RuleLimits,
): readonly (Signal | NotJudged)[] {
  const asked = limits.noGainDays;
  if (asked === null) return [];
  const notJudged = (why: Notice) => [{ kind: "no gain" as const, why }];
  const about = { animal: animal.id, day };
  const index = animal.rowOn.get(day);
  if (index === undefined) {
    const earlier = rowUpTo(animal, day);
    return notJudged(
      notice("flag-not-weighed", "info", { ...about, last: earlier?.feedingDay ?? null }),
    );
  }
  if (!isSettled(phaseOn, day, asked))
    return notJudged(notice("flag-window-unsettled", "info", { ...about, days: asked }));
  const row = animal.series.daily[index]!;
  const expected = expectedGainG(animal, row.ageD, row.massG);
  let reason: Measured["why"];
  for (const factor of widenings) {
    const days = Math.round(asked * factor);
    if (factor > 1 && !isSettled(phaseOn, day, days)) break;
    const { gain, n } = gainOverWindow(
      animal.series.daily.slice(Math.max(0, index - 3 * days), index + 1),
      { days },
    );
    if (gain.value === null) {
      reason ??= gain.why;
      continue;
    }
    const se = gain.se ?? 0;
    if (expected !== null && se * worth > expected) {
      reason = notice("flag-no-gain-unclear", "info", { animal: animal.id, days, se, expected });
      continue;
    }
    return [signalOf(animal, { ...gain, value: gain.value }, se, days, n)];
  }
  return [{ kind: "no gain", why: reason! }];
}

function signalOf(
  animal: PreparedAnimal,
  gain: Measured & { readonly value: number },
  se: number,
  days: number,
  n: number,
): Signal {
  const raised = gain.value <= 0;
  return ruleSignal({
    class: "practice",
    kind: "no gain",
    direction: "low",
    raised,
    strength: raised ? 1 + Math.min(2, Math.abs(gain.value) / Math.max(se, 1e-9) / 4) : 0,
    value: gain,
    threshold: 0,
    evidence: { gainGPerD: gain.value, seGPerD: se, days, weighings: n },
    sentence: notice("flag-no-gain", "info", { animal: animal.id, gain: gain.value, se, days }),
  });
}

/** Low end of the gain expected in care at that age, g/d; null where the profile has none. */
function expectedGainG(animal: PreparedAnimal, ageD: number | null, massG: number): number | null {
  const bands = animal.profile.expectedGain.filter((b) => b.setting === "hand-reared");
  const gain = (bandAt(bands, ageD) ?? (ageD === null ? bands[0] : undefined))?.gain;
  if (gain === undefined) return null;
  return gain.unit.startsWith("%") ? (gain.range[0] / 100) * massG : gain.range[0];
}
