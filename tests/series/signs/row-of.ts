import type { ObservationRow } from "../../../src/records/study.js";
import { readSign } from "../../../src/series/signs/read-sign.js";
import type { Sign } from "../../../src/series/signs/sign.js";

/** One line of an invented table of observations. */
export function rowOf(
  kind: string,
  value: string,
  unit = "",
  notes: string | null = null,
  at = Date.UTC(2025, 4, 10, 8),
): ObservationRow {
  return {
    animalId: "P1",
    at,
    kind: kind as ObservationRow["kind"],
    value: value !== "" && Number.isFinite(Number(value)) ? Number(value) : null,
    valueText: value === "" ? null : value,
    unit: unit === "" ? null : unit,
    notes,
    origin: { file: "observations.csv", line: 2 },
  };
}

export function signOf(kind: string, value: string, unit = "", notes: string | null = null): Sign {
  return readSign(rowOf(kind, value, unit, notes), { decimal: "point" });
}

/** A sign in the short form of the table of written cells. */
export function meaningOf(sign: Sign): string {
  const { measure, state, count, amount, findings, question } = sign;
  const number = (x: number) => String(Number(x.toPrecision(6)));
  const main =
    measure === null
      ? state
      : `${measure.low === measure.high ? number(measure.low) : `${number(measure.low)}..${number(measure.high)}`} ${measure.unit}`;
  return [
    main,
    count === null ? "" : `x${count}`,
    amount === null ? "" : `${number(amount.value)} ${amount.unit}`,
    question === null ? "" : "?",
    findings.length === 0 ? "" : `[${findings.join(", ")}]`,
  ]
    .filter((part) => part !== "")
    .join(" ");
}
