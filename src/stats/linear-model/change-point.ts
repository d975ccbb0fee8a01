import { requireList } from "../../core/require-numbers.js";
import { UsageError } from "../../core/usage-error.js";
import { momentsAbout } from "../descriptive/describe.js";
import { matrixFromRows } from "../linear-algebra/matrix.js";
import { minimiseOnInterval } from "../numeric/minimise-on-interval.js";
import { fitLinearModel } from "./fit-linear-model.js";

export interface BrokenLine {
  /** Where the slope changes. */
  readonly at: number;
  readonly intercept: number;
  readonly slopeBefore: number;
  readonly slopeAfter: number;
  readonly rss: number;
  /** Residual squares of one straight line, for comparison. */
  readonly rssOneLine: number;
  /** The break found lies at the end of what was searched: no break inside the data. */
  readonly atEnd: boolean;
}

/**
 * Straight line with one change of slope, joined, by least squares; the break is
 * searched between the second and the last but one distinct x.
 *
 * @throws UsageError for fewer than four distinct x or a number not finite.
 * @example fitBrokenLine([0, 1, 2, 3, 4, 5], [0, 1, 2, 2, 2, 2]).at // 2
 */
export function fitBrokenLine(x: ArrayLike<number>, y: ArrayLike<number>): BrokenLine {
  const places = distinctPlaces("fitBrokenLine", x, y);
  const low = places[1]!;
  const high = places[places.length - 2]!;
  const fit = (k: number) =>
    fitLinearModel(matrixFromRows(Array.from(x, (v) => [1, v, Math.max(0, v - k)])), y);
  // The loss has one valley at most between neighbouring x, so each gap is searched.
  let at = low;
  let best = fit(low).rss;
  for (let i = 1; i + 2 < places.length; i++) {
    const found = minimiseOnInterval((k) => fit(k).rss, places[i]!, places[i + 1]!, {
      scan: 8,
      tolerance: 1e-9 * (high - low),
    });
    if (found.value < best) [at, best] = [found.x, found.value];
  }
  const model = fit(at);
  const [intercept, slope, change] = model.coefficients.map((v) => v ?? 0);
  const straight = fitLinearModel(matrixFromRows(Array.from(x, (v) => [1, v])), y);
  const edge = 1e-7 * (high - low);
  return {
    at,
    intercept: intercept!,
    slopeBefore: slope!,
    slopeAfter: slope! + change!,
    rss: model.rss,
    rssOneLine: straight.rss,
    atEnd: at - low < edge || high - at < edge,
  };
}

export interface TwoLines {
  /** The last x of the first line. */
  readonly after: number;
  readonly before: { readonly intercept: number; readonly slope: number };
  readonly behind: { readonly intercept: number; readonly slope: number };
  readonly rss: number;
}

/**
 * Two separate straight lines, split where their residual squares are least (two x each at least).
 *
 * @example fitTwoLines([0, 1, 2, 3, 4, 5], [0, 1, 2, 9, 8, 7]).behind.slope // -1
 */
export function fitTwoLines(x: ArrayLike<number>, y: ArrayLike<number>): TwoLines {
  const places = distinctPlaces("fitTwoLines", x, y);
  let best: TwoLines | undefined;
  for (let k = 1; k + 2 < places.length; k++) {
    const side = (keep: (v: number) => boolean) => {
      const rows = Array.from(x, (_, i) => i).filter((i) => keep(x[i]!));
      return fitLinearModel(
        matrixFromRows(rows.map((i) => [1, x[i]!])),
        rows.map((i) => y[i]!),
      );
    };
    const a = side((v) => v <= places[k]!);
    const b = side((v) => v > places[k]!);
    const rss = a.rss + b.rss;
    if (best !== undefined && rss >= best.rss) continue;
    const line = (m: typeof a) => ({ intercept: m.coefficients[0]!, slope: m.coefficients[1]! });
    best = { after: places[k]!, before: line(a), behind: line(b), rss };
  }
  return best!;
}

export interface MeanShift {
  /** Position of the last value of the first part. */
  readonly lastIndex: number;
  readonly means: readonly [number, number];
  readonly rss: number;
}

/**
 * One change of mean in a series, by least squares; each part holds two values at least.
 *
 * @example findMeanShift([1, 2, 1, 8, 9, 8]).lastIndex // 2
 */
export function findMeanShift(y: ArrayLike<number>): MeanShift {
  requireList("findMeanShift", "the values", y);
  const values = Array.from(y);
  distinctPlaces(
    "findMeanShift",
    values.map((_, i) => i),
    values,
  );
  let best: MeanShift | undefined;
  for (let k = 2; k <= values.length - 2; k++) {
    const a = momentsAbout(values.slice(0, k));
    const b = momentsAbout(values.slice(k));
    const rss = a.squares + b.squares;
    if (best === undefined || rss < best.rss) {
      best = { lastIndex: k - 1, means: [a.mean, b.mean], rss };
    }
  }
  return best!;
}

function distinctPlaces(where: string, x: ArrayLike<number>, y: ArrayLike<number>): number[] {
  requireList(where, "x", x);
  requireList(where, "y", y);
  const places = [...new Set(Array.from(x))].sort((a, b) => a - b);
  let finite = y.length === x.length;
  for (let i = 0; i < x.length && finite; i++) finite = Number.isFinite(x[i]! + y[i]!);
  if (finite && places.length >= 4) return places;
  throw new UsageError({
    needed: "finite pairs at four distinct x or more",
    came: `${places.length} distinct x${finite ? "" : ", some pairs not finite"}`,
    where,
    todo: "Leave incomplete pairs out, with a count.",
  });
}
