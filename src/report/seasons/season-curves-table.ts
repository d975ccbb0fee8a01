import type { Result } from "../../core/result.js";
import type { SeasonCurves } from "../../seasons/season-curves.js";
import { say } from "../section/say.js";
import { type Cell, type Table, table } from "../section/section.js";
import { ofSpecies, withTidy } from "../section/tidy-table.js";

const mostRows = 10;

/** Mass of a typical animal of each season at the common arrival, age by age. */
export function seasonCurvesTable(result: Result<"season-curves", SeasonCurves>): Table {
  const { curves } = result.value;
  const ages = curves[0]?.points.map((p) => p.ageD) ?? [];
  const shown = thinned(ages);
  const shownTable = table(
    "season-curves",
    say("season-table-curves", about(result.value)),
    [
      { title: "Age", unit: "d", align: "number", digits: 3 },
      ...curves.map((c) => ({
        title: `${c.season} (n = ${c.n})`,
        unit: "g",
        align: "number" as const,
        digits: 4,
        meaning: `Mean curve of season ${c.season} at the common arrival; mixed model of ln mass, cubic in age.`,
      })),
    ],
    shown.map((i) => [
      ages[i]!,
      ...curves.map((c) => {
        const { massG, interval } = c.points[i]!;
        return { value: massG, unit: "g", interval, n: c.n };
      }),
    ]),
    say("season-table-no-curves"),
  );
  return ofSpecies(
    result.value.species,
    withTidy(
      shownTable,
      [{ title: "Season" }, { title: "Age", unit: "d" }, { title: "Mass", unit: "g" }],
      curves.flatMap((c) =>
        shown.map((i): Cell[] => {
          const { massG, interval } = c.points[i]!;
          return [c.season, ages[i]!, { value: massG, unit: "g", interval, n: c.n }];
        }),
      ),
    ),
  );
}

/**
 * How much heavier one season's typical animal is than another's, age by age, in
 * percent: the pairs of one season, by default the last.
 */
export function seasonCurveDifferencesTable(
  result: Result<"season-curves", SeasonCurves>,
  options: { readonly season?: string } = {},
): Table {
  const { differences, curves } = result.value;
  const season = options.season ?? curves.at(-1)?.season;
  const pairs = differences.filter((d) => d.from === season || d.to === season);
  const ages = pairs[0]?.points.map((p) => p.ageD) ?? [];
  const shown = table(
    "season-curve-differences",
    say("season-table-curve-differences", about(result.value)),
    [
      { title: "Age", unit: "d", align: "number", digits: 3 },
      ...pairs.map((d) => ({
        title: `${d.to} against ${d.from}`,
        unit: "%",
        align: "number" as const,
        digits: 2,
      })),
    ],
    thinned(ages).map((i) => [
      ages[i]!,
      ...pairs.map((d) => {
        const { percent, interval } = d.points[i]!;
        return { value: percent, unit: "%", interval };
      }),
    ]),
    say("season-table-no-pair"),
  );
  return ofSpecies(
    result.value.species,
    withTidy(
      shown,
      [
        { title: "Season" },
        { title: "Against" },
        { title: "Age", unit: "d" },
        { title: "Heavier by", unit: "%" },
      ],
      pairs.flatMap((d) =>
        thinned(ages).map((i): Cell[] => {
          const { percent, interval } = d.points[i]!;
          return [d.to, d.from, ages[i]!, { value: percent, unit: "%", interval }];
        }),
      ),
    ),
  );
}

/** Where the curves stand: the common arrival, as far as the model took it up. */
function about({ species, model }: SeasonCurves) {
  const used = model?.used ?? [];
  return {
    species,
    mass: used.length === 0 ? null : (model?.atArrivalMassG ?? null),
    age: used.includes("arrival age") ? (model?.atArrivalAgeD ?? null) : null,
  };
}

/** Places of at most ten rows, evenly spread, first and last among them. */
function thinned(ages: readonly number[]): number[] {
  const n = Math.min(ages.length, mostRows);
  return Array.from({ length: n }, (_, i) =>
    n === 1 ? 0 : Math.round((i * (ages.length - 1)) / (n - 1)),
  );
}
