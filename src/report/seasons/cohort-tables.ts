import type { Result } from "../../core/result.js";
import type { ReplayedForecast } from "../../growth/cohort/backtest-forecast.js";
import type { CohortFit } from "../../growth/cohort/cohort-fit.js";
import type { CohortMean, CohortMeanCurve } from "../../growth/cohort/cohort-mean-curve.js";
import { formatInterval, unitWord } from "../../units/format-measured.js";
import { formatNumber } from "../../units/format-number.js";
import { curveWords } from "../section/curve-words.js";
import { type Cell, type Table, table } from "../section/section.js";
import { withTidy } from "../section/tidy-table.js";

/** The cohort's parameters: a typical animal, and how much animals differ. */
export function cohortTable(fit: CohortFit): Table {
  const { parameters, animals, curve, model } = fit.value;
  const cells = (p: CohortFit["value"]["parameters"][number]) =>
    [`${p.name}: ${p.meaning}`, p.typical, p.between] as const;
  const shown = table(
    "cohort",
    `${curveWords(curve)} curve of ${animals.length} animals; differing between animals: ${model === null || model.random.length === 0 ? "nothing" : model.random.join(" and ")}.`,
    [
      { title: "Parameter" },
      { title: "Typical animal", align: "number", digits: 4 },
      { title: "Spread between animals", align: "number", digits: 3 },
    ],
    parameters.map((p) => [...cells(p).slice(0, 2), spread(p)]),
    "The cohort's curve could not be fitted.",
  );
  return withTidy(shown, shown.columns, parameters.map(cells));
}

/** How far animals differ, no finer than the typical animal is known. */
function spread({ typical, between }: CohortFit["value"]["parameters"][number]): Cell {
  const half = typical.interval ?? null;
  if (between?.value == null || half === null || half.lower === null || half.upper === null)
    return between;
  const known = (half.upper - half.lower) / 2;
  const { value } = formatInterval(
    between.value,
    between.value - known,
    between.value + known,
    between.unit,
  );
  return `${value} ${unitWord(between.unit)}`;
}

/** The mean over animals, the typical animal and the band of animals side by side. */
export function cohortAverageTable(mean: Result<string, CohortMeanCurve>): Table {
  const { ages, gainOver, band } = mean.value;
  const row = (what: string, { average, typical, animals }: CohortMean) => [
    what,
    average,
    typical,
    animals.lower,
    animals.upper,
  ];
  const days = (age: number) => `${formatNumber(age, 3)} d`;
  const ends = band.map((share) => `${formatNumber(100 * share, 3)}th centile of animals`);
  return table(
    "cohort-average",
    `What animals of this cohort weigh and gain on average, beside the typical animal and the range of most animals (n = ${mean.basis.used} animals). The interval is that of the average; the centiles are those of animals, at the estimates.`,
    [
      { title: "Quantity" },
      { title: "Average of animals", align: "number", digits: 4 },
      { title: "Typical animal", align: "number", digits: 4 },
      { title: ends[0]!, align: "number", digits: 4 },
      { title: ends[1]!, align: "number", digits: 4 },
    ],
    [
      ...ages.map(({ age, mass }) => row(`mass at ${days(age)}`, mass)),
      ...ages.map(({ age, gain }) => row(`gain at ${days(age)}`, gain)),
      row(`mean gain from ${days(gainOver.from)} to ${days(gainOver.to)}`, gainOver.gain),
    ],
  );
}

/** What would have been forecast as weighings arrived, beside what was weighed. */
export function replayTable(replay: Result<"backtest-forecast", ReplayedForecast>): Table {
  const { animal, animalsInCohort, rows } = replay.value;
  return table(
    "replayed-forecast",
    `${animal}, left out of the cohort of ${animalsInCohort}: what would have been forecast a week ahead from its first days, with the 95 % interval for the next reading of the scale.`,
    [
      { title: "After days" },
      { title: "Weighings known", align: "number" },
      { title: "Age forecast", unit: "d", align: "number", digits: 3 },
      { title: "Forecast", unit: "g", align: "number", digits: 4 },
      { title: "Weighed then", unit: "g", align: "number", digits: 5 },
      { title: "Within the interval" },
    ],
    rows.map((r) => {
      const { lower, upper } = r.expected.interval ?? { lower: null, upper: null };
      const judged = r.weighedG !== null && lower !== null && upper !== null;
      return [
        String(r.afterD),
        r.weighings,
        r.age,
        r.expected,
        r.weighedG,
        judged ? (r.weighedG! >= lower! && r.weighedG! <= upper! ? "yes" : "no") : "not known",
      ];
    }),
  );
}
