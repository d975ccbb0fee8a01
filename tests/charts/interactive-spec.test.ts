import { createRequire } from "node:module";
import { describe, expect, it } from "vitest";
import type { Chart } from "../../src/charts/chart.js";
import { interactiveSpec } from "../../src/charts/interactive-spec.js";
import { full } from "./sample-charts.js";

const require = createRequire(import.meta.url);
const vega = require("vega");
const { compile } = require("vega-lite");
const { expressionInterpreter } = require("vega-interpreter");

const askable = Object.entries(full).filter(([, chart]) => (chart.reading?.length ?? 0) > 1);

// biome-ignore lint/suspicious/noExplicitAny: the scene of the chart library is untyped
type Item = any;

/** The marks of a scene whose name fits, with the items in them. */
function marksOf(item: Item, fits: (mark: Item) => boolean): Item[] {
  if (item === undefined || item === null) return [];
  const inside = (item.items ?? []).flatMap((each: Item) => marksOf(each, fits));
  return fits(item) ? [item, ...inside] : inside;
}
const isCells = (mark: Item) => mark.marktype === "path" && /voronoi/.test(mark.name ?? "");

/** What the library would show beside the pointer, newest last. */
const told: unknown[] = [];

async function liveView(chart: Chart): Promise<Item> {
  const { spec } = compile(interactiveSpec(chart));
  const view = new vega.View(vega.parse(spec, undefined, { ast: true }), {
    renderer: "none",
    expr: expressionInterpreter,
  });
  view._handler._tooltip = (_: unknown, __: unknown, ___: unknown, value: unknown) =>
    told.push(value);
  return view.runAsync();
}

/** What the library's own handler does when the pointer is over an item. */
async function point(view: Item, over: Item, type: string): Promise<void> {
  view._handler._active = over;
  view._handler.fire(type, { type, preventDefault: () => {} });
  await view.runAsync();
}

/** The places, by panel, at which the line is seen. */
const seen = (view: Item): number[][] =>
  marksOf(view.scenegraph().root, (m) => m.marktype === "rule" && /layer_\d+_marks/.test(m.name))
    .map((m) => m.items.filter((i: Item) => i.opacity > 0.5 && i.datum?.words !== undefined))
    .filter((items) => items.length > 0)
    .map((items) => items.map((i: Item) => i.datum.x));

describe.each(askable)("the %s chart in a live notebook", (_, chart) => {
  const panels = Array.isArray(chart.spec["vconcat"]) ? chart.spec["vconcat"].length : 1;

  it("answers the pointer over any panel with one line through all of them", async () => {
    const view = await liveView(chart);
    const cells = marksOf(view.scenegraph().root, isCells);
    expect(cells).toHaveLength(panels);
    expect(seen(view)).toEqual([]);
    for (const panel of cells) {
      const at = Math.floor(panel.items.length / 2);
      await point(view, panel.items[at], "pointermove");
      const { x, words } = panel.items[at].datum.datum ?? panel.items[at].datum;
      expect(seen(view)).toEqual(new Array(panels).fill([x]));
      // What is told there is what was plotted there.
      expect(chart.reading).toContainEqual({ x, words });
      expect(told.at(-1)).toBe(words);
      await point(view, panel.items[at], "pointerout");
      expect(seen(view)).toEqual([]);
    }
    view.finalize();
  });

  it("can be zoomed along the bottom", async () => {
    const view = await liveView(chart);
    const [from, to] = view.scale("x").domain().map(Number);
    const half = Math.floor(from + (to - from) / 2);
    const signals = Object.keys(view.getState({ signals: () => true }).signals);
    expect(signals.filter((each) => /^zoom/.test(each)).length).toBeGreaterThan(0);
    const field = signals.find((each) => /^zoom_(x|day|at)$/.test(each));
    expect(field, signals.join(" ")).toBeDefined();
    await view.signal(field, [from, half]).runAsync();
    expect(Number(view.scale("x").domain()[1])).toBe(half);
    view.finalize();
  });
});

it("leaves a chart without places as it is", () => {
  expect(interactiveSpec(full["interval"]!)).toBe(full["interval"]!.spec);
});
