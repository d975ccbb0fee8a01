import type { Chart, ChartOptions, VegaLiteSpec } from "./chart.js";
import { niceDomain } from "./nice-domain.js";

/**
 * Pictures of one page that show the same quantity, made so that a gram here is as
 * long as a gram there: each is made once, and again on the scale that holds what
 * all of them show. The quantity is named by the title of its axis.
 *
 * @example onOneScale("Mass (g)", [(o) => contemporariesChart(a, o), (o) => growthCurveChart(b, o)]).length // 2
 */
export function onOneScale(
  title: string,
  make: readonly ((options: ChartOptions) => Chart)[],
): readonly Chart[] {
  const free = make.map((each) => each({}));
  if (free.length < 2) return free;
  const { domain } = niceDomain(
    free.flatMap((chart) => valuesOn(chart.spec, title)),
    5,
  );
  return make.map((each) => each({ domain }));
}

interface Encoded {
  readonly field?: string;
  readonly title?: string | readonly string[] | null;
  readonly scale?: { readonly zero?: boolean };
}

/** Every value that a specification draws along the axes of a title. */
function valuesOn(spec: VegaLiteSpec, title: string, above: readonly unknown[] = []): number[] {
  const { values: rows = above } = (spec["data"] ?? {}) as { values?: readonly unknown[] };
  const encoding = (spec["encoding"] ?? {}) as Readonly<Record<string, Encoded>>;
  const own = ["x", "y"].flatMap((side) => {
    const axis = encoding[side];
    const named = [axis?.title ?? []].flat().join(" ") === title;
    if (axis === undefined || !named) return [];
    const fields = [axis.field, encoding[`${side}2`]?.field].flatMap((field) => field ?? []);
    const numbers = rows.flatMap((row) =>
      fields.flatMap((field) => (row as Readonly<Record<string, unknown>>)[field] ?? []),
    );
    return [...numbers, ...(axis.scale?.zero === true ? [0] : [])];
  });
  const inside = ["layer", "concat", "vconcat", "hconcat"].flatMap(
    (key) => (spec[key] ?? []) as readonly VegaLiteSpec[],
  );
  return [...own, ...inside.flatMap((each) => valuesOn(each, title, rows))].filter(
    (value): value is number => typeof value === "number" && Number.isFinite(value),
  );
}
