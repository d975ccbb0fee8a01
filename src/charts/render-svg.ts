import { createRequire } from "node:module";
import { printable } from "../core/printable.js";
import type { VegaLiteSpec } from "./chart.js";
import { quickExpressions } from "./expressions.js";
import { measureText } from "./measure-text.js";
import { type PictureValues, pictureKind, standInWidth } from "./picture-kind.js";

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
  const { vega } = loadChartLibraries();
  // Ids in the picture are count from zero each time, else they would depend on what was drawn before.
  vega.resetSVGClipId();
  vega.resetSVGDefIds?.();
  const view = laidOut(runtimeOf(spec));
  // What the library's own (asynchronous) toSVG does; a test holds the two to the same text.
  const { width, height, left, top } = sizeOf(view);
  const svg = new vega.SVGStringRenderer().initialize(
    null,
    width,
    height,
    [left + view._origin[0], top + view._origin[1]],
    1,
  );
  svg.background(view.background());
  const text: string = svg.render(view.scenegraph().root).svg();
  const scale = at.length === 0 ? null : bottomScale(view);
  const edge = left + view._origin[0] + panelLeft(view.scenegraph().root);
  const places = scale === null ? [] : at.map((x) => Math.round(10 * (edge + scale(x))) / 10);
  view.finalize();
  const alt = typeof spec["description"] === "string" ? spec["description"] : "";
  return { svg: withAlternative(text, alt), width, height, places };
}

/**
 * How wide the picture of a specification is, about: laid out with the first and last of many
 * rows, since what stands beside the plots hangs on the ends of the scales. In a third of the
 * time of a drawing.
 */
export function measuredWidth(spec: VegaLiteSpec): number {
  const view = laidOut(runtimeOf(spec, (rows) => (rows.length <= fewRows ? rows : ends(rows))));
  const { width } = sizeOf(view);
  view.finalize();
  return width;
}

const fewRows = 20;
const ends = <T>(rows: readonly T[]) => [rows[0]!, rows.at(-1)!];

function laidOut(runtime: Untyped): Untyped {
  const { vega, interpreter } = loadChartLibraries();
  const view = new vega.View(runtime, {
    renderer: "none",
    expr: interpreter,
    logLevel: vega.Error,
    loader: { load: refuse, sanitize: refuse, http: refuse, file: refuse },
  });
  return view.run();
}

function sizeOf(view: Untyped) {
  const { left, right, top, bottom } = view.padding();
  const width: number = view._viewWidth + left + right;
  const height: number = view._viewHeight + top + bottom;
  return { width, height, left, top };
}

/** What the chart library draws from: worked out once for a kind of picture, with the values of this one put in. */
function runtimeOf(
  spec: VegaLiteSpec,
  shown = (rows: readonly object[]): readonly object[] => rows,
): Untyped {
  const { spec: kind, given } = pictureKind(spec);
  const key = JSON.stringify(kind);
  const known = kinds.get(key) ?? parsedKind(kind, given);
  // The kind used last stands last, so that the one used least recently is forgotten.
  kinds.delete(key);
  kinds.set(key, known);
  for (const oldest of kinds.keys()) {
    if (kinds.size <= mostKinds) break;
    kinds.delete(oldest);
  }
  return known({ ...given, rows: given.rows.map(shown) });
}

const kinds = new Map<string, (given: PictureValues) => Untyped>();
const mostKinds = 200;

/** Compiles and parses a kind; gives back what puts the values of a picture into it. */
function parsedKind(kind: VegaLiteSpec, given: PictureValues): (given: PictureValues) => Untyped {
  const { vega, vegaLite } = loadChartLibraries();
  const compiled = vegaLite.compile(kind, { logger: quietLogger }).spec;
  compiled.signals = [
    ...[...given.named.keys()].map((name) => ({ name, value: null })),
    ...(compiled.signals ?? []),
  ];
  // Expressions are interpreted, never turned into code: pages may forbid that.
  const runtime = vega.parse(compiled, undefined, { ast: true });
  const widths = given.widths.map((_, place) => standInWidth(place));
  return (values) => {
    const putIn = (operator: Untyped): unknown => {
      const { signal, value } = operator;
      if (values.named.has(signal)) return values.named.get(signal);
      if (signal === "padding" && values.padding !== undefined) return paddingOf(values.padding);
      const width = widths.indexOf(value);
      if (width >= 0) return values.widths[width];
      const place = value?.$ingest?.[0]?.rows;
      // Copies, because the library marks the rows it is given.
      return place === undefined
        ? value
        : { ...value, $ingest: values.rows[place]!.map((row) => ({ ...row })) };
    };
    const operators = runtime.operators.map((operator: Untyped) => {
      const value = putIn(operator);
      return value === operator.value ? operator : { ...operator, value };
    });
    return { ...runtime, operators };
  };
}

/** Room around a picture, side by side as the library keeps it. */
function paddingOf(padding: unknown): object {
  const same = typeof padding === "number" ? padding : 0;
  const sides = { top: same, bottom: same, left: same, right: same };
  return typeof padding === "object" ? { ...sides, ...padding } : sides;
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
  loaded = { vega, vegaLite, interpreter: quickExpressions(expressionInterpreter) };
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
