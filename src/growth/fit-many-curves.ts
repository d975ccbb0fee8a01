import type { LongWork } from "../core/long-work.js";
import { type ParallelWork, runJobs } from "../core/parallel.js";
import type { Result } from "../core/result.js";
import { UsageError } from "../core/usage-error.js";
import { type CurveName, curveByName } from "./curve-catalogue.js";
import type { FitStatus } from "./curve-fit-value.js";
import type { FitCurveOptions } from "./fit-curve.js";
import type { CurveData } from "./fit-preparation.js";

export interface NamedSeries extends CurveData {
  readonly name: string;
}

/** One line of a large table of fits; the whole fit is made again with `fitCurve` where wanted. */
export interface FitSummary {
  readonly name: string;
  readonly status: FitStatus;
  readonly identified: boolean;
  readonly asymptoteIdentified: boolean | null;
  /** Estimates and standard errors in the curve's order of parameters. */
  readonly estimates: readonly (number | null)[];
  readonly se: readonly (number | null)[];
  readonly residualSd: number | null;
  readonly aicc: number | null;
  readonly n: number;
  /** Codes of the notices of this fit. */
  readonly codes: readonly string[];
}

export interface ManyCurveFits {
  readonly curve: string;
  readonly parameters: readonly { readonly name: string; readonly meaning: string }[];
  readonly fits: readonly FitSummary[];
  readonly converged: number;
}

export type FitManyOptions = Omit<FitCurveOptions, "curve"> &
  LongWork & {
    /** A name of the catalogue (a curve of one's own cannot travel to a thread). */
    readonly curve: CurveName;
    /** Worker threads; 0 or 1 stays on this thread. Default 0. */
    readonly threads?: number | undefined;
  };

/** One block of series, as it travels to a thread. */
export interface FitBlock {
  readonly series: readonly NamedSeries[];
  readonly options: FitCurveOptions;
}

/**
 * Fits one curve to many series, one independent of the other, and returns a
 * line for each, in order. Cost grows linearly with the number of series;
 * progress is reported and cancelling heard every 250 series; worker threads
 * are used when asked.
 *
 * @example
 * await fitManyCurves([{ name: "P1", ages, masses }], { curve: "logistic", threads: 2 })
 */
export async function fitManyCurves(
  series: readonly NamedSeries[],
  options: FitManyOptions,
): Promise<Result<"fit-many-curves", ManyCurveFits>> {
  const { threads, signal, onProgress, seed: _, ...fitOptions } = options;
  if (typeof options.curve !== "string") {
    throw new UsageError({
      needed: "the name of a growth curve",
      came: "a curve of one's own came",
      where: "fitManyCurves, option curve",
      todo: "Fit it with fitCurve, one series at a time.",
    });
  }
  const curve = curveByName(options.curve);
  const size = 250;
  const blocks: FitBlock[] = [];
  for (let at = 0; at < series.length; at += size) {
    blocks.push({ series: series.slice(at, at + size), options: fitOptions });
  }
  const work: ParallelWork = {
    threads,
    doing: "fitting curves",
    ...(signal === undefined ? {} : { signal }),
    ...(onProgress === undefined
      ? {}
      : {
          onProgress: ({ done, doing }) =>
            onProgress({ done: Math.min(series.length, done * size), total: series.length, doing }),
        }),
  };
  const answers = await runJobs<FitBlock, FitSummary[]>(fitBlockModule(), "fitBlock", blocks, work);
  const fits = answers.flat();
  return {
    kind: "fit-many-curves",
    schema: 1,
    value: {
      curve: curve.name,
      parameters: curve.parameters.map(({ name, meaning }) => ({ name, meaning })),
      fits,
      converged: fits.filter((each) => each.status === "converged").length,
    },
    method: {
      name: `${curve.title} curve by nonlinear least squares, each series alone`,
      options: { ...fitOptions, threads: threads ?? 0 },
      citations: curve.citations,
    },
    basis: { used: series.length, leftOut: [], of: "series" },
    diagnostics: {},
    notices: [],
  };
}

/** The module a thread loads: beside this one, with this one's ending. */
function fitBlockModule(): URL {
  const ending = import.meta.url.endsWith(".ts") ? "ts" : "js";
  return new URL(`./fit-block.${ending}`, import.meta.url);
}
