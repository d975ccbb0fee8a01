import type { StudyAnalysis } from "../../analysis/study-analysis.js";
import type { Chart } from "../../charts/chart.js";
import { conversionChart } from "../../charts/conversion-chart.js";
import { animalLabel } from "../section/animal-label.js";

/** What the animals in care ate and what they gained, over each one's last conversion window. */
export function conversionPicture(
  analysis: StudyAnalysis,
  options: { readonly highlight?: string } = {},
): Chart {
  const animals = analysis.animals.filter((a) => a.inCare);
  const marked = animals.find((a) => a.animalId === options.highlight);
  return conversionChart({
    keptTitle: "Energy kept (kcal/d)",
    gainTitle: "Gain (g/d)",
    method: "means of the window of the conversion of what was kept, usually the last 14 days",
    ...(marked === undefined ? {} : { highlight: animalLabel(marked) }),
    rows: animals.map((a) => {
      const { days, gain } = a.conversion.value;
      // Gain comes of what was kept: eaten less what came up.
      const { kcal } = a.conversion.value.kept;
      return {
        animalId: a.animalId,
        name: animalLabel(a),
        group: a.species,
        keptPerDay: kcal.value === null || days === null || days <= 0 ? null : kcal.value / days,
        gainPerDay: gain.value,
      };
    }),
  });
}
