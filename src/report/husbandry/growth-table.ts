import type { AnimalAnalysis } from "../../analysis/study-analysis.js";
import { animalLabel } from "../section/animal-label.js";
import { curveWords } from "../section/curve-words.js";
import { type Table, table } from "../section/section.js";

/** Growth of each animal over its whole time in care, and the curve with the lowest AICc. */
export function growthTable(animals: readonly AnimalAnalysis[]): Table {
  return table(
    "growth",
    "Growth from the first usable weighing to the last. Relative gain is 100 ln(W2/W1)/days. The curve named is, of those fitted to the same masses, the one that follows them best for the numbers it needs.",
    [
      { title: "Animal" },
      { title: "Days", align: "number", digits: 3 },
      { title: "Weighed days", align: "number" },
      { title: "First mass", unit: "g", align: "number", digits: 5 },
      { title: "Last mass", unit: "g", align: "number", digits: 5 },
      { title: "Gain", unit: "g/d", align: "number", digits: 3 },
      { title: "Relative gain", unit: "%/d", align: "number", digits: 3 },
      { title: "Curve" },
      { title: "Final mass told by the data" },
    ],
    animals.map((a) => {
      const best = a.curves.find((c) => c.fit.value.curve === a.curveChoice.chosen);
      return [
        animalLabel(a),
        a.gain.overall?.days ?? null,
        a.series.daily.length,
        a.first?.massG ?? null,
        a.last?.massG ?? null,
        a.gain.overall?.gain ?? null,
        a.gain.overall?.relative ?? null,
        best === undefined ? "none could be chosen" : curveWords(best.fit.value.curve),
        best === undefined || best.finalOverLargest === null
          ? "the curve has none"
          : best.fit.value.asymptoteIdentified === false
            ? "no"
            : best.finalOverLargest > 1.5
              ? "only by the form of the curve"
              : "yes",
      ];
    }),
    "No animal.",
  );
}
