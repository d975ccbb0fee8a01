import { noticeText } from "../../core/catalogue.js";
import type { Result } from "../../core/result.js";
import type { ChosenCurve } from "../../growth/choose-curve.js";
import type { DerivedGrowth } from "../../growth/derive-growth.js";
import { screenWording } from "../../units/format.js";
import { curveWords } from "../section/curve-words.js";
import { type Table, table } from "../section/section.js";

/** All curves that were tried, failures too, in the order of the choice. */
export function curveChoiceTable(choice: Result<"choose-curve", ChosenCurve>): Table {
  const wording = screenWording("UTC");
  const { ranking, explanation } = choice.value;
  return table(
    "curve-choice",
    explanation.map((each) => noticeText(each, wording)).join(" "),
    [
      { title: "Curve" },
      { title: "Parameters", align: "number" },
      { title: "AICc above the lowest", align: "number", digits: 3 },
      { title: "Residual spread", unit: "g", align: "number", digits: 3 },
      { title: "Final mass told by the data" },
      { title: "Residuals" },
      { title: "Remark" },
    ],
    ranking.map((r) => [
      curveWords(r.curve),
      r.parameters,
      r.behind,
      r.residualSd,
      r.asymptoteIdentified === null ? "has none" : r.asymptoteIdentified ? "yes" : "no",
      r.pattern === null ? "–" : r.pattern.bent ? "bend" : "no pattern seen",
      r.notRanked === null ? "" : noticeText(r.notRanked, wording),
    ]),
    "No curve was tried.",
  );
}

/** What follows from a fitted curve, each with its standard error, or why it does not. */
export function derivedGrowthTable(derived: Result<"derive-growth", DerivedGrowth>): Table {
  const v = derived.value;
  return table(
    "derived-growth",
    "What follows from the curve, with standard errors (delta method) and 95 % intervals.",
    [{ title: "Quantity" }, { title: "Value", align: "number", digits: 4 }],
    [
      ["Age at inflection", v.inflectionAge],
      ["Mass at inflection", v.inflectionMass],
      ["Greatest gain", v.greatestGain],
      ["Relative gain at inflection", v.relativeGainAtInflection],
      ["Final mass", v.finalMass],
      ["Share of the final mass at the last weighing", v.maturityAtLastAge],
    ],
  );
}
