import type { ExpectedMass, ExpectedWeek } from "../../analysis/expected-week.js";
import type { AnimalAnalysis } from "../../analysis/study-analysis.js";
import type { Chart } from "../../charts/chart.js";
import { type ExpectedBand, expectedWeekChart } from "../../charts/expected-week-chart.js";
import type { Result } from "../../core/result.js";
import { addDays } from "../../units/calendar.js";
import { animalLabel } from "../section/animal-label.js";

/** The last three weeks as weighed and the next days as expected, one panel a scenario. */
export function expectedWeekPicture(
  animal: AnimalAnalysis,
  result: Result<"expected-week", ExpectedWeek>,
): Chart {
  const { days, lastDay } = result.value;
  const band = (day: string, m: ExpectedMass): ExpectedBand => ({ day, ...m });
  const others = days.flatMap((d) =>
    d.asTheOthers === null ? [] : [band(d.feedingDay, d.asTheOthers)],
  );
  const scenarios = [
    {
      name: "(a) as it has of late",
      days: days.map((d) => band(d.feedingDay, d.ownCourse)),
    },
    ...(others.length === 0 ? [] : [{ name: "(b) as any other of its group", days: others }]),
  ];
  return expectedWeekChart({
    name: animalLabel(animal),
    weighed: animal.series.daily
      .filter((d) => d.feedingDay > addDays(lastDay, -21))
      .map((d) => ({ day: d.feedingDay, massG: d.massG })),
    scenarios: days.length === 0 ? [] : scenarios,
    method: "Limits by the watch's model.",
  });
}
