import { createRequire } from "node:module";
import { printable } from "../core/printable.js";
import type { VegaLiteSpec } from "./chart.js";
import { measureText } from "./measure-text.js";

/**
 * Draws a Vega-Lite 5 specification as SVG text. Works at once (no promise), so
 * a forgotten `await` cannot lose a picture; the same specification gives the
 * same text on every machine. The chart libraries are loaded at the first call.
 *
 * Throws what Vega-Lite says when the specification is not valid.
 *
 * @example renderSvg({ data: { values: [{ x: 1, y: 2 }] }, mark: "point", encoding: {...} })
 */
export function renderSvg(spec: VegaLiteSpec): string {
  return drawChart(spec).svg;
}

export interface DrawnChart {
  readonly svg: string;
  /** Size of the picture in pixels. */
  readonly width: number;
  readonly height: number;
  /** Where each asked place along the bottom lies, in pixels from the left edge. */
  readonly places: readonly number[];
}

/** The same with its size, and where values of the bottom axis lie in it. */
export function drawChart(spec: VegaLiteSpec, at: readonly number[] = []): DrawnChart {
  const { vega, vegaLite, interpreter } = loadChartLibraries();
  // Ids in the picture are count from zero each time, else they would depend on what was drawn before.
  vega.resetSVGClipId();
  vega.resetSVGDefIds?.();
  // A copy, because the library marks the rows it is given.
  const compiled = vegaLite.compile(structuredClone(spec), { logger: quietLogger }).spec;
  // Expressions are interpreted, never turned into code: pages may forbid that.
  const runtime = vega.parse(compiled, undefined, { ast: true });
  const view = new vega.View(runtime, {
    renderer: "none",
    expr: interpreter,
    logLevel: vega.Error,
    loader: { load: refuse, sanitize: refuse, http: refuse, file: refuse },
  });
  view.run();
  // What the library's own (asynchronous) toSVG does; a test holds the two to the same text.
  const { left, right, top, bottom } = view.padding();
  const svg = new vega.SVGStringRenderer().initialize(
    null,
    view._viewWidth + left + right,
    view._viewHeight + top + bottom,
    [left + view._origin[0], top + view._origin[1]],
    1,
  );
  svg.background(view.background());
  const text: string = svg.render(view.scenegraph().root).svg();
  const scale = at.length === 0 ? null : bottomScale(view);
  const edge = left + view._origin[0] + panelLeft(view.scenegraph().root);
  const places = scale === null ? [] : at.map((x) => Math.round(10 * (edge + scale(x))) / 10);
  const width = view._viewWidth + left + right;
  const height = view._viewHeight + top + bottom;
  view.finalize();
  const alt = typeof spec["description"] === "string" ? spec["description"] : "";
  return { svg: withAlternative(text, alt), width, height, places };
}

/** The scale along the bottom: one for the picture, or that of its first panel. */
function bottomScale(view: Untyped): ((x: number) => number) | null {
  for (const name of ["x", "concat_0_x"]) {
    try {
      return view.scale(name);
    } catch {
      // The library throws for a name that it does not have.
    }
  }
  return null;
}

/** How far right of the picture's origin the panels of a stack begin; 0 where there is one plot. */
function panelLeft(root: Untyped): number {
  const marks = root.items[0]?.items ?? [];
  const panel = marks.find((mark: Untyped) => mark.name === "concat_0_group");
  return panel?.items[0]?.x ?? 0;
}

/** The picture is announced as one image with its sentence. */
function withAlternative(svg: string, alt: string): string {
  const escaped = printable(alt).replace(/[&<>"]/g, (mark) => `&#${mark.charCodeAt(0)};`);
  // The chart library hands on every character of a name, also those that no picture may hold.
  return printable(svg).replace(
    /^<svg /,
    escaped === "" ? '<svg role="img" ' : `<svg role="img" aria-label="${escaped}" `,
  );
}

/** Charts carry their data; nothing is ever fetched. */
function refuse(): never {
  throw new Error("charts load nothing from outside");
}

// biome-ignore lint/suspicious/noExplicitAny: the chart libraries are used untyped so that no declaration mentions them
type Untyped = any;
let loaded: { vega: Untyped; vegaLite: Untyped; interpreter: Untyped } | undefined;

/** The chart libraries, loaded at the first call. */
export function loadChartLibraries() {
  if (loaded !== undefined) return loaded;
  const require = createRequire(import.meta.url);
  const vega = require("vega");
  const vegaLite = require("vega-lite");
  const { expressionInterpreter } = require("vega-interpreter");
  vega.textMetrics.width = (item: Untyped, text: unknown) => {
    const width = measureText(
      String(text ?? ""),
      item.fontSize ?? 11,
      Number(item.fontWeight) >= 600 || item.fontWeight === "bold",
    );
    // A text that will be cut at a limit takes no more room than the limit.
    return item.limit > 0 ? Math.min(width, item.limit) : width;
  };
  loaded = { vega, vegaLite, interpreter: expressionInterpreter };
  return loaded;
}

/** Vega-Lite's advice to chart authors is not for readers of a notebook. */
const quietLogger: Untyped = {
  level: () => quietLogger,
  error: (...words: unknown[]) => {
    throw new Error(`The chart specification is not valid: ${words.join(" ")}`);
  },
  warn: () => quietLogger,
  info: () => quietLogger,
  debug: () => quietLogger,
};
