import { measured } from "../../core/measured.js";
import { notice } from "../../core/notice.js";
import type { CivilDate, ObservationRow } from "../../series/animal-series.js";
import { convert, unitNamed } from "../../units/quantity.js";
import type { NotJudged } from "../animal-day/flag.js";
import type { PreparedAnimal } from "../animal-day/prepared-animal.js";
import type { Signal } from "../animal-day/signal.js";
import type { RuleLimits } from "./rule-limits.js";
import { ruleSignal } from "./rule-signal.js";

/** What no living mammal in a nursery has, degC: such a value is a slip or another unit. */
const readable = [20, 46] as const;

/**
 * A temperature outside the species range by more than a thermometer may err. Of
 * several taken on a day the one furthest away decides. A value that cannot be a
 * body temperature in the unit written beside it is not judged, and said so.
 */
export function temperatureSignal(
  animal: PreparedAnimal,
  day: CivilDate,
  limits: RuleLimits,
): readonly (Signal | NotJudged)[] {
  const margin = limits.temperatureMarginC;
  if (margin === null) return [];
  const range = animal.profile.bodyTemperature;
  const written = (animal.observationsOn.get(day) ?? []).filter(
    (o) => o.kind === "temperature" && o.value !== null,
  );
  const notJudged = (
    code: "flag-no-range" | "flag-no-temperature" | "flag-no-body-temperature",
    value: number | null = null,
  ) => [{ kind: "temperature" as const, why: notice(code, "info", { animal: animal.id, value }) }];
  if (range === null) return notJudged("flag-no-range");
  if (written.length === 0) return notJudged("flag-no-temperature");
  const taken = written
    .map((o) => ({ at: o.at, value: celsius(o) }))
    .filter(({ value }) => value >= readable[0] && value <= readable[1]);
  if (taken.length === 0) return notJudged("flag-no-body-temperature", written[0]!.value);
  const [lowest, highest] = range.range;
  const away = (c: number) => Math.max(lowest - margin - c, c - highest - margin);
  const worst = taken.reduce((w, t) => (away(t.value) > away(w.value) ? t : w));
  const beyond = away(worst.value);
  const isLow = worst.value < (lowest + highest) / 2;
  return [
    ruleSignal({
      class: "danger",
      kind: "temperature",
      direction: isLow ? "low" : "high",
      raised: beyond > 0,
      strength: Math.max(0, beyond > 0 ? 1 + beyond : Math.min(0.99, 1 + beyond)),
      value: measured(worst.value, "degC", { n: taken.length }),
      threshold: isLow ? lowest - margin : highest + margin,
      evidence: { temperatureC: worst.value, lowC: lowest, highC: highest, at: worst.at },
      sentence: notice("flag-temperature", "info", {
        animal: animal.id,
        value: worst.value,
        low: lowest,
        high: highest,
        margin,
        at: worst.at,
        source: range.source,
      }),
    }),
  ];
}

function celsius(o: ObservationRow): number {
  const unit = unitNamed(o.unit ?? "degC");
  return unit === "degF" ? convert(o.value!, "degF", "degC") : o.value!;
}
