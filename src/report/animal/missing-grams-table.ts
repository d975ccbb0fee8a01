import type { IntakeAtTheMargin } from "../../analysis/intake-at-the-margin.js";
import type { Result } from "../../core/result.js";
import type { MissingGrams } from "../../flags/missing-grams.js";
import { formatDays } from "../../units/format-date.js";
import { formatAmount, formatMeasured } from "../../units/format-measured.js";
import { count } from "../../units/format-number.js";
import { say } from "../section/say.js";
import { type Cell, type Table, table } from "../section/section.js";

/**
 * The grams an animal is missing: what its intake predicts, and the rest, which is
 * never split. Every part stands beside the words of what it is held against. With
 * `margin` the intake part is priced a second time, maintenance being paid first.
 */
export function missingGramsTable(
  result: Result<"missing-grams", MissingGrams>,
  margin?: Result<"intake-at-the-margin", IntakeAtTheMargin>,
): Table {
  const { value: v } = result;
  const perDay = (x: number | null) => (x === null ? "not known" : formatAmount(x, "kcal/d"));
  const own = v.own.keptKcalPerDay;
  const ownKept =
    own === null || own.value !== null
      ? perDay(own?.value ?? null)
      : `${formatAmount(own.low, "", 3, "kcal/d")} to ${perDay(own.high)}`;
  const known = v.missing.value !== null;
  const kept = `it kept ${ownKept}; contemporaries at its size ${perDay(v.expected.keptKcalPerDay)}`;
  const rows: (readonly Cell[])[] = [
    [
      "Missing in all",
      v.missing,
      known
        ? `had it gained as an animal of its size does at their mean relative gain: ${formatAmount(v.expected.gainG, "g")} in ${count(v.days, "day")}, against its own ${formatAmount(v.own.gainG, "g")}`
        : "not computed",
    ],
    [
      "1. Predicted by what it kept",
      v.fromIntake,
      `had it kept as much as they did (${kept}; kept is eaten less what came up), at their average gain per kcal, as if its maintenance moved with the food`,
    ],
    ["2. The rest (residual)", v.rest, say("missing-grams-rest")],
  ];
  if (margin !== undefined && margin.value.fromIntake.value !== null) {
    const { growth, fromIntake, rest } = margin.value;
    rows.push(
      [
        "1. again, maintenance paid first",
        fromIntake,
        `the same difference in energy kept, but every kcal of it coming out of growth alone: ${formatMeasured({ ...growth, unit: "kcal per g" })} of gain, as found on the other animals of the species`,
      ],
      ["2. again, the rest then", rest, say("missing-grams-rest")],
    );
  }
  return table(
    "missing-grams",
    `${v.animalId}, ${formatDays(v.from, v.to)}, against ${count(v.contemporaries.length, "contemporary", "contemporaries")}. ${say("missing-grams-caption")}`,
    [
      { title: "Part" },
      { title: "Grams", align: "number", digits: 3 },
      { title: "Had it been otherwise" },
    ],
    rows,
  );
}
