import { fitCurve } from "./fit-curve.js";
import type { FitBlock, FitSummary } from "./fit-many-curves.js";

/** Fits one block of series and keeps one line of each; runs in a worker thread or here. */
export function fitBlock(block: FitBlock): FitSummary[] {
  return block.series.map(({ name, ...data }) => {
    const { value, notices } = fitCurve(data, block.options);
    return {
      name,
      status: value.status,
      identified: value.identified,
      asymptoteIdentified: value.asymptoteIdentified,
      estimates: value.estimates.map((each) => each.estimate.value),
      se: value.estimates.map((each) => each.estimate.se ?? null),
      residualSd: value.residualSd.value,
      aicc: value.aicc,
      n: value.points.ages.length,
      codes: notices.map((each) => each.code),
    };
  });
}
