import { measured } from "../../core/measured.js";
import type { AlertKind } from "../../rates/sign-limits.js";
import type { CivilDate } from "../../series/animal-series.js";
import type { PreparedAnimal } from "../animal-day/prepared-animal.js";
import type { Signal } from "../animal-day/signal.js";
import { ruleSignal } from "./rule-signal.js";

/**
 * What the signs written on a feeding day raise: each danger under its own name, the
 * second looks together, and the lines that could not be read together. Nothing is
 * said of a day without signs: what was not written is no good news.
 */
export function signSignals(animal: PreparedAnimal, day: CivilDate): readonly Signal[] {
  const alerts = animal.alertsOn.get(day) ?? [];
  const kinds = [...new Set(alerts.map((a) => a.what))];
  return kinds.map((kind: AlertKind) => {
    const own = alerts.filter((a) => a.what === kind);
    const last = own.at(-1)!;
    return ruleSignal({
      class: last.level === "danger" ? "danger" : "practice",
      kind,
      direction: "high",
      raised: true,
      strength: own.length,
      value: measured(own.length, "count"),
      threshold: 1,
      evidence: {
        times: own.length,
        at: last.at,
        written: String(last.sentence.parameters["written"]),
      },
      sentence: last.sentence,
    });
  });
}
