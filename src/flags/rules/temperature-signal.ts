import { measured } from "../../core/measured.js";
import { notice } from "../../core/notice.js";
import type { CivilDate } from "../../series/animal-series.js";
import { inWrittenDigits } from "../../units/in-written-digits.js";
import type { NotJudged } from "../animal-day/flag.js";
import type { PreparedAnimal } from "../animal-day/prepared-animal.js";
import type { Signal } from "../animal-day/signal.js";
import type { RuleLimits } from "./rule-limits.js";
import { ruleSignal } from "./rule-signal.js";

/**
 * A temperature outside the species range by more than a thermometer may err; without a
 * range of the species, outside bounds of common practice. Of
 * several taken on a day, and of several meanings of one in doubt, the one furthest
 * away decides. What cannot be read is not judged, and said so.
 */
export function temperatureSignal(
  animal: PreparedAnimal,
  day: CivilDate,
  limits: RuleLimits,
): readonly (Signal | NotJudged)[] {
  const own = animal.profile.bodyTemperature;
  const margin = own === null ? 0 : limits.temperatureMarginC;
  if (margin === null) return [];
  const range = own?.range ?? limits.temperatureWithoutRangeC;
  const written = (animal.signsOn.get(day) ?? []).filter(
    (s) => s.kind === "temperature" && s.state !== "not looked",
  );
  const notJudged = (
    code: "flag-no-range" | "flag-no-temperature" | "flag-no-body-temperature",
    value: string | null = null,
  ) => [{ kind: "temperature" as const, why: notice(code, "info", { animal: animal.id, value }) }];
  if (range === null) return notJudged("flag-no-range");
  if (written.length === 0) return notJudged("flag-no-temperature");
  const taken = written.flatMap(({ at, measure }) =>
    measure === null ? [] : [measure.low, measure.high].map((value) => ({ at, value })),
  );
  if (taken.length === 0) return notJudged("flag-no-body-temperature", written[0]!.written);
  const [lowest, highest] = range;
  const away = (c: number) => Math.max(lowest - margin - c, c - highest - margin);
  const worst = taken.reduce((w, t) => (away(t.value) > away(w.value) ? t : w));
  const beyond = inWrittenDigits(away(worst.value));
  const isLow = worst.value < (lowest + highest) / 2;
  return [
    ruleSignal({
      class: "danger",
      kind: "temperature",
      direction: isLow ? "low" : "high",
      raised: beyond > 0,
      strength: Math.max(0, beyond > 0 ? 1 + beyond : Math.min(0.99, 1 + beyond)),
      value: measured(worst.value, "degC", { n: written.length }),
      threshold: isLow ? lowest - margin : highest + margin,
      evidence: { temperatureC: worst.value, lowC: lowest, highC: highest, at: worst.at },
      sentence: notice("flag-temperature", "info", {
        animal: animal.id,
        value: worst.value,
        low: lowest,
        high: highest,
        margin,
        at: worst.at,
        source: own === null ? "common practice, no range is known for the species" : own.source,
      }),
    }),
  ];
}
