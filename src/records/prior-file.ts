import { z } from "zod";
import { UsageError } from "../core/usage-error.js";
import { priorAgesD } from "./prior-ages.js";
import { whatIsWrong } from "./what-is-wrong.js";

/** A quantity that varies, as mean and standard deviation of its logarithm. */
export interface LogNormal {
  readonly logMean: number;
  readonly logSd: number;
}

/** How much weighings and gains vary within a group. */
export interface Variation {
  /** Standard deviation of ln mass of one weighing. */
  readonly noise: LogNormal;
  /** Share of its variance that lasts to the next day (gut fill): mean and standard deviation. */
  readonly lasting: { readonly mean: number; readonly sd: number };
  /** Gain that wanders within an animal, and gain that differs between animals, as shares of gain. */
  readonly wander: LogNormal;
  readonly spread: LogNormal;
}

/**
 * What a group of hand-reared young says about gain, as plain numbers: no rows, no
 * names, no dates. Earlier seasons of a house and files of other nurseries are the
 * same kind of thing.
 */
export interface PopulationSummary {
  readonly animals: number;
  readonly seasons: number;
  /** Ages in days at which the mean relative gain per day is described. */
  readonly agesD: readonly number[];
  /** Information (inverse variance) on the mean gains at those ages, row by row, d^2. */
  readonly information: readonly number[];
  /** Information times gain, d: what is added up when summaries are combined. */
  readonly pulled: readonly number[];
  readonly variation: Variation;
}

/** What a day later at arrival does to gain within the seasons of a house, as a share of the mean gain. */
export interface ArrivalSlope {
  readonly perDay: number;
  /** Standard error of `perDay`. */
  readonly sd: number;
  readonly animals: number;
}

/** A prior file of another nursery: a summary, of which species, and which file it is. */
export interface PriorFile extends PopulationSummary {
  readonly species: string;
  /** Absent in files written before it was told, and where too few animals tell it. */
  readonly arrival?: ArrivalSlope | undefined;
  readonly file: string;
}

/** Below so many animals one of them could be recognised in the numbers: nothing is written. */
export const fewestAnimalsOfPrior = 8;

/** Beyond it no gain is known, and sums of such numbers leave what a double holds. */
const number = z.number().min(-1e12).max(1e12);
const logNormal = z.object({
  logMean: z.number().min(-20).max(5),
  logSd: z.number().min(0).max(5),
});
const schema = z.object({
  kind: z.literal("gramline prior"),
  schema: z.literal(1),
  species: z.string().min(1),
  animals: z.number().int().min(fewestAnimalsOfPrior).max(1e6),
  seasons: z.number().int().min(1).max(1000),
  agesD: z.array(number).min(2).max(40),
  information: z.array(number),
  pulled: z.array(number),
  variation: z.object({
    noise: logNormal,
    lasting: z.object({ mean: z.number().min(0).max(1), sd: z.number().min(0).max(1) }),
    wander: logNormal,
    spread: logNormal,
  }),
  arrival: z
    .object({
      perDay: z.number().min(-0.2).max(0.2),
      sd: z.number().positive().max(1),
      animals: z.number().int().min(fewestAnimalsOfPrior).max(1e6),
    })
    .optional(),
});

/**
 * Reads a prior file.
 *
 * @throws UsageError where it is no prior file, or its numbers do not fit together.
 * @example readPrior(text, "prior-otters.json").animals // 24
 */
export function readPrior(text: string, file: string): PriorFile {
  let raw: unknown = null;
  try {
    raw = JSON.parse(text);
  } catch (error) {
    throw wrong(file, `the text cannot be read as JSON (${(error as Error).message})`);
  }
  const read = schema.safeParse(raw);
  if (!read.success) {
    const issue = read.error.issues[0]!;
    throw wrong(
      file,
      `"${issue.path.map(String).join(".")}" is not as expected (${whatIsWrong(issue)})`,
    );
  }
  const { kind: _, schema: __, ...prior } = read.data;
  const n = prior.agesD.length;
  if (String(prior.agesD) !== String(priorAgesD))
    throw wrong(
      file,
      `gain is told at other ages in days (${prior.agesD.slice(0, 12).join(", ")})`,
    );
  if (prior.information.length !== n * n || prior.pulled.length !== n)
    throw wrong(
      file,
      `${n} ages came with ${prior.information.length} and ${prior.pulled.length} numbers`,
    );
  for (let i = 0; i < n; i++) {
    if (prior.information[i * n + i]! < 0) throw wrong(file, "an information below zero");
    for (let j = 0; j < i; j++) {
      const [a, b] = [prior.information[i * n + j]!, prior.information[j * n + i]!];
      if (Math.abs(a - b) > 1e-3 * Math.max(1, Math.abs(a), Math.abs(b)))
        throw wrong(file, "an information that is not symmetric");
    }
  }
  if (!isInformation(prior.information, n))
    throw wrong(file, "an information that no weighings can give (not positive semidefinite)");
  return { ...prior, file };
}

/**
 * Whether a symmetric matrix is one of inverse variances: no pivot of its elimination is
 * below zero by more than six digits leave uncertain, and where one is nothing, nothing
 * stands beside it.
 */
function isInformation(written: readonly number[], n: number): boolean {
  const m = Float64Array.from(written);
  const at = (i: number, j: number) => m[i * n + j]!;
  const most = Math.max(...written.map(Math.abs));
  const slack = 1e-5 * most;
  for (let k = 0; k < n; k++) {
    const pivot = at(k, k);
    if (pivot < -slack) return false;
    for (let i = k + 1; i < n; i++) {
      if (pivot <= slack) {
        if (Math.abs(at(i, k)) > Math.sqrt(slack * most)) return false;
        continue;
      }
      const factor = at(i, k) / pivot;
      for (let j = k + 1; j < n; j++) m[i * n + j] = at(i, j) - factor * at(k, j);
    }
  }
  return true;
}

/**
 * The text of a prior file: population parameters with their uncertainty, six digits.
 *
 * @param arrival what arrival does to gain; left out where null or of fewer than 8 animals.
 * @throws UsageError below 8 animals: one of them could be recognised.
 * @example priorText(summary, "sea otter").length < 8000 // true
 */
export function priorText(
  summary: PopulationSummary,
  species: string,
  arrival: ArrivalSlope | null = null,
): string {
  if (summary.animals < fewestAnimalsOfPrior) {
    throw new UsageError({
      needed: `at least ${fewestAnimalsOfPrior} animals of the species, so that none can be recognised`,
      came: `${summary.animals} of "${species}"`,
      where: "gramline prior",
      todo: "Wait for another season, or leave the file unwritten.",
    });
  }
  const short = (x: number) => Number(x.toPrecision(6));
  const of = ({ logMean, logSd }: LogNormal) => ({ logMean: short(logMean), logSd: short(logSd) });
  const { variation } = summary;
  return `${JSON.stringify({
    kind: "gramline prior",
    schema: 1,
    about:
      "What a nursery's young gained and how much that varies: no rows, names or dates. Information is inverse variance of the mean relative gain per day at the ages. Arrival is what a day later does to gain, as a share of it.",
    species,
    animals: summary.animals,
    seasons: summary.seasons,
    agesD: summary.agesD,
    information: summary.information.map(short),
    pulled: summary.pulled.map(short),
    variation: {
      noise: of(variation.noise),
      lasting: { mean: short(variation.lasting.mean), sd: short(variation.lasting.sd) },
      wander: of(variation.wander),
      spread: of(variation.spread),
    },
    ...(arrival === null || arrival.animals < fewestAnimalsOfPrior
      ? {}
      : {
          arrival: {
            perDay: short(arrival.perDay),
            sd: short(arrival.sd),
            animals: arrival.animals,
          },
        }),
  })}\n`;
}

function wrong(file: string, came: string): UsageError {
  return new UsageError({
    needed: 'a prior file as "gramline prior" writes it',
    came,
    where: file,
    todo: 'Ask for the file again, or take its name out of "priors" in study.json.',
  });
}
