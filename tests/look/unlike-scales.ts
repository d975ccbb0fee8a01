import { createRequire } from "node:module";
import { type Chart, chartTitle } from "../../src/charts/chart.js";

const require = createRequire(import.meta.url);
const vega = require("vega");
const { compile } = require("vega-lite");
const { expressionInterpreter } = require("vega-interpreter");

/**
 * Axes of one page that show one quantity on different scales, as the chart library
 * draws them. The same quantity is: what the title of an axis names, of one animal;
 * and between pictures of one kind what it names of one species, or, where it is a
 * share of body mass, of all. Ages and days have the stretch that each picture shows.
 */
export function unlikeScales(
  charts: readonly Chart[],
  animals: readonly {
    readonly animalId: string;
    readonly name: string | null;
    readonly species: string;
  }[],
): string[] {
  const first = new Map<string, { readonly domain: string; readonly chart: string }>();
  return charts.flatMap((chart) => {
    const title = chartTitle(chart);
    const own = animals.filter((a) => title.includes(a.animalId));
    const species = [...new Set(animals.map((a) => a.species))];
    const of = species.find((each) => title.includes(each)) ?? own[0]?.species ?? "";
    const kind = [...animals.flatMap((a) => [a.animalId, a.name ?? a.animalId]), ...species].reduce(
      (words, each) => words.replaceAll(each, ""),
      title,
    );
    return scalesOf(chart).flatMap(({ axis, domain }) => {
      const relative = /% of body mass/.test(axis);
      const keys = [
        `${axis}, ${kind}, ${relative ? "all" : of}`,
        ...(own.length === 1 ? [`${axis}, ${own[0]!.animalId}`] : []),
      ];
      return keys.flatMap((key) => {
        const known = first.get(key);
        if (known === undefined) first.set(key, { domain, chart: title });
        return known === undefined || known.domain === domain
          ? []
          : [`${axis}: ${known.domain} in "${known.chart}", ${domain} in "${title}"`];
      });
    });
  });
}

/** The titled axes of numbers of a picture, each with the ends of its scale. */
function scalesOf(chart: Chart): { readonly axis: string; readonly domain: string }[] {
  const quiet = {
    level: () => quiet,
    error() {},
    warn: () => quiet,
    info: () => quiet,
    debug: () => quiet,
  };
  const { spec } = compile(structuredClone(chart.spec), { logger: quiet });
  const view = new vega.View(vega.parse(spec, undefined, { ast: true }), {
    renderer: "none",
    expr: expressionInterpreter,
    logLevel: vega.Error,
  }).run();
  const axes = (spec.axes ?? []).flatMap(
    ({ title, scale }: { title?: string | readonly string[]; scale: string }) => {
      const axis = [title ?? []].flat().join(" ");
      if (!/\(.*\)$/.test(axis) || /^(?:Age|Days|Feeding day)\b/.test(axis)) return [];
      return [{ axis, domain: view.scale(scale).domain().map(Number).join(" to ") }];
    },
  );
  view.finalize();
  return axes;
}
