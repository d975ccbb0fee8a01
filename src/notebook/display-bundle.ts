import type { Chart } from "../charts/chart.js";
import { fixedTextWidths } from "../charts/fixed-text-widths.js";
import { interactiveSpec } from "../charts/interactive-spec.js";
import { renderSvg } from "../charts/render-svg.js";
import { noticeText } from "../core/catalogue.js";
import type { Measured } from "../core/measured.js";
import type { Notice } from "../core/notice.js";
import { sentences } from "../core/sentences.js";
import { sizeLimits } from "../core/size-limits.js";
import { UsageError } from "../core/usage-error.js";
import type { Study } from "../records/study.js";
import { chartMime, type MimeBundle } from "../report/renderers/notebook-file.js";
import { escapeHtml } from "../report/renderers/page/escape.js";
import { blockHtml, sectionHtml } from "../report/renderers/page/section-html.js";
import { blockText, sectionText } from "../report/section/plain-text.js";
import { resultSection } from "../report/section/result-section.js";
import { rowsTable } from "../report/section/rows-table.js";
import { type Block, isMeasured, type Section } from "../report/section/section.js";
import { screenWording } from "../units/format.js";
import { formatMeasured } from "../units/format-measured.js";
import { formatNumber } from "../units/format-number.js";
import { cellOf, fieldCell, ownWords } from "./cell-of.js";
import { isMixedFit, mixedSection } from "./mixed-section.js";

/**
 * Anything of this library, in every form a notebook front end may know: a
 * chart as Vega-Lite 5, SVG and text; everything else as HTML and text. Plain
 * rows become a table.
 *
 * Throws a UsageError for a promise (an `await` is missing) and for what has no
 * form, such as a function or something that holds itself.
 *
 * @example displayBundle([{ day: 1, mass: 2400 }])["text/plain"] // the rows as a table
 */
export function displayBundle(x: unknown): MimeBundle {
  try {
    return withFixedTextWidths(formsOf(x));
  } catch (error) {
    // What only looks like one of ours, or holds itself, has no form; that is no fault inside.
    if (error instanceof TypeError || error instanceof RangeError) throw noForm(error.message);
    throw error;
  }
}

/** A front end brings no font of ours along, and pictures are laid out in it. */
function withFixedTextWidths(bundle: MimeBundle): MimeBundle {
  const drawn = ["image/svg+xml", "text/html"].flatMap((form) => {
    const text = bundle[form];
    return typeof text === "string" ? [[form, fixedTextWidths(text)] as const] : [];
  });
  return { ...bundle, ...Object.fromEntries(drawn) };
}

function noForm(why: string): UsageError {
  return new UsageError({
    needed: "a result, chart, table, section, number, text or rows, as the library makes them",
    came: `a value that cannot be shown (${why.split("\n")[0]})`,
    where: "show",
    todo: "Show one of its parts, or the result it was made of.",
  });
}

function formsOf(x: unknown): MimeBundle {
  if (isPromise(x)) {
    throw new UsageError({
      needed: "a result",
      came: "a promise of one was given",
      where: "show",
      todo: "Put await in front: show(await ...).",
    });
  }
  if (x === null || x === undefined) return { "text/plain": "nothing" };
  if (typeof x === "string") return { "text/plain": x, "text/html": `<p>${escapeHtml(x)}</p>` };
  if (typeof x === "number") return { "text/plain": formatNumber(x) };
  if (typeof x === "boolean") return { "text/plain": x ? "yes" : "no" };
  if (Array.isArray(x)) return listBundle(x);
  if (typeof x === "object") return objectBundle(x);
  throw new UsageError({
    needed: "a result, chart, table, section, number, text or rows",
    came: `a ${typeof x} was given`,
    where: "show",
    todo: "Call the function and show what it returns.",
  });
}

function objectBundle(x: object): MimeBundle {
  if (isChart(x)) return chartBundle(x);
  if (isSection(x)) return { "text/html": sectionHtml(x), "text/plain": sectionText(x) };
  if (isBlock(x)) return blockBundle(x);
  if (isNotice(x)) return listBundle([x]);
  if (isMeasured(x)) return { "text/plain": measuredText(x) };
  if (isResult(x)) return objectBundle(resultSection(x));
  if (isMixedFit(x)) return objectBundle(mixedSection(x));
  if (isTable(x)) return listBundle(x);
  if (isStudy(x)) return studyBundle(x);
  if (isDataFrame(x)) return { "text/plain": frameText(x) };
  const words = ownWords(x);
  if (words !== null) return { "text/plain": words };
  return objectBundle(
    rowsTable(
      "values",
      "Values",
      Object.entries(x).map(([name, value]) => ({ name, value: cellOf(value) })),
    ),
  );
}

/** A frame or a series as its library writes it; one without rows it may refuse to write. */
function frameText(frame: { toString(): string }): string {
  try {
    return frame.toString();
  } catch (error) {
    return `nothing to show (${(error as Error).message})`;
  }
}

/** What was read, table by table; the rows themselves are shown by their table. */
function studyBundle({ settings, counts }: ShownStudy): MimeBundle {
  const rows = counts.map(({ table, file, rowsIn, accepted, setAside }) => ({
    table,
    file,
    rowsIn,
    accepted,
    setAside,
  }));
  return blockBundle(rowsTable("study", `${settings.title}: what was read`, rows));
}

/** Of a longer list only the beginning is shown, and it is said. */
function listBundle(all: ShownList): MimeBundle {
  const whole = all.length <= sizeLimits.shownItems;
  const begin = [...all.slice(0, sizeLimits.shownItems)];
  // Of what is said or drawn nothing is left out.
  const items = begin.every((item) => isNotice(item) || isPicture(item)) ? [...all] : begin;
  if (items.length === 0) return { "text/plain": "nothing (an empty list)" };
  if (items.every(isNotice)) return blockBundle({ kind: "notices", notices: items });
  if (items.every(isPicture)) {
    const bundles = items.map((item) => displayBundle(item));
    const html = bundles.map((b) => String(b["text/html"] ?? b["image/svg+xml"] ?? ""));
    return {
      "text/html": html.join("\n"),
      "text/plain": bundles.map((b) => b["text/plain"]).join("\n\n"),
    };
  }
  if (items.every((item) => typeof item === "object" && item !== null && !Array.isArray(item))) {
    const rows = items.map((item) =>
      Object.fromEntries(Object.entries(item as object).map(([k, v]) => [k, fieldCell(k, v)])),
    );
    const title = whole
      ? `${rows.length} ${rows.length === 1 ? "row" : "rows"}`
      : `The first ${sizeLimits.shownItems} of ${formatNumber(all.length, 9)} rows`;
    return blockBundle(rowsTable("rows", title, rows));
  }
  const more = whole ? [] : [`and ${formatNumber(all.length - sizeLimits.shownItems, 9)} more`];
  return blockBundle({
    kind: "list",
    items: [...items.map((item) => String(cellOf(item))), ...more],
  });
}

function chartBundle(chart: Chart): MimeBundle {
  return {
    "application/vnd.vegalite.v5+json": interactiveSpec(chart),
    "image/svg+xml": renderSvg(chart.spec),
    // For the page that is made of the notebook: no front end knows it, and none has to.
    [chartMime]: chart,
    "text/plain": chart.caption,
  };
}

function blockBundle(block: Block): MimeBundle {
  shown += 1;
  return { "text/html": blockHtml(block, `shown-${shown}-`), "text/plain": blockText(block) };
}
let shown = 0;

function measuredText(m: Measured): string {
  return m.value === null && m.why !== undefined
    ? `not defined: ${noticeText(m.why, screenWording())}`
    : formatMeasured(m);
}

const kindOf = (x: unknown): unknown =>
  typeof x === "object" && x !== null && "kind" in x ? x.kind : undefined;
const isChart = (x: unknown): x is Chart => kindOf(x) === "chart" && "spec" in (x as object);
const isSection = (x: unknown): x is Section =>
  kindOf(x) === "section" && "blocks" in (x as object);
const blockKinds = [
  "text",
  "list",
  "caution",
  "chart-block",
  "notices",
  "table",
  "lead",
  "questions",
  "fold",
];
const isBlock = (x: unknown): x is Block => blockKinds.includes(kindOf(x) as string);
const isPicture = (x: unknown) => isChart(x) || isSection(x) || isBlock(x);
const isNotice = (x: unknown): x is Notice =>
  typeof x === "object" &&
  x !== null &&
  "code" in x &&
  "level" in x &&
  "parameters" in x &&
  Object.hasOwn(sentences, String(x.code));
const isResult = (x: object): x is Parameters<typeof resultSection>[0] =>
  "kind" in x && "value" in x && "method" in x && "notices" in x;
const isPromise = (x: unknown): boolean =>
  typeof x === "object" && x !== null && "then" in x && typeof x.then === "function";
interface ShownList extends Iterable<unknown> {
  readonly length: number;
  slice(from: number, to: number): Iterable<unknown>;
}
/** A long table of the records, which makes its rows when they are asked for. */
const isTable = (x: object): x is ShownList =>
  "row" in x && typeof x.row === "function" && "length" in x && "toJSON" in x && "slice" in x;
type ShownStudy = Pick<Study, "settings" | "counts">;
const isStudy = (x: object): x is ShownStudy => "settings" in x && "counts" in x && "tables" in x;
const isDataFrame = (x: object): boolean => "$data" in x && "print" in x;
