import { growthCurves } from "../growth/curve-catalogue.js";
import { tableColumns, tableNames } from "../records/columns.js";
import { knownSpecies } from "../species/profile-of.js";
import { units } from "../units/quantity.js";
import { vouchedWords } from "./vouched-words.js";

/** What stands where a text cannot be vouched for. */
export const leftOut = "(left out)";

/** What an id names; the word that stands for it where it is not kept. */
export type Named =
  | "animal"
  | "group"
  | "diet"
  | "batch"
  | "scale"
  | "place"
  | "season"
  | "species";

/** Decides, for one study, which of its texts can be exported without people. */
export interface Vouch {
  /** The id itself, or a number in its place ("animal 3"), always the same for the same id. */
  id<T extends string | null>(what: Named, written: T): T;
  /** The text where it is made of vouched words, else null. */
  words(text: string | null): string | null;
  /** A parameter of a notice: numbers, our own words and ids; other text is left out. */
  parameter<T>(value: T): T;
  /** How many texts were left out or replaced so far. */
  count(): number;
}

/** Our own vocabulary: names of tables, columns, choices, units and profiles. */
const ourWords: ReadonlySet<string> = new Set([
  "",
  ...tableNames,
  ...tableNames.flatMap((table) => tableColumns[table].map((column) => column.name)),
  ...tableNames.flatMap((table) => tableColumns[table].flatMap((column) => column.choices ?? [])),
  ...Object.keys(units),
  ...knownSpecies(),
]);

/**
 * Whether a value of an option is a word of ours: a curve, a choice, a column, nothing.
 *
 * @example isWordOfOurs("gompertz") // true
 */
export const isWordOfOurs = (text: string): boolean =>
  ourWords.has(text) || Object.hasOwn(growthCurves, text) || /^(null|true|false)$/.test(text);

const dateOrTime = /^\d{4}-\d{2}-\d{2}([ T]\d{2}:\d{2})?$|^\d{2}:\d{2}$/;

/**
 * @example vouchFor().id("animal", "O25-04") // "O25-04"
 * @example vouchFor().id("scale", "Zorvane's scale") // "scale 1"
 */
export function vouchFor(): Vouch {
  const given = new Map<string, string>();
  const shown = new Set<string>();
  const byText = new Map<string, string>();
  const last = new Map<Named, number>();
  let left = 0;
  const standIn = (what: Named, written: string): string => {
    // Counted on from the last one: a study has as many batches as half days.
    for (let n = (last.get(what) ?? 0) + 1; ; n++) {
      const name = `${what} ${n}`;
      if (name === written || shown.has(`${what}:${name}`)) continue;
      last.set(what, n);
      left++;
      return name;
    }
  };
  const id = <T extends string | null>(what: Named, written: T): T => {
    if (written === null) return written;
    const key = `${what}:${written}`;
    let name = given.get(key);
    if (name === undefined) {
      // An id that stands in for another already would make one animal of two.
      name = isVouched(written) && !shown.has(key) ? written : standIn(what, written);
      given.set(key, name);
      shown.add(`${what}:${name}`);
      byText.set(written, name);
    }
    return name as T;
  };
  const parameter = (value: unknown): unknown => {
    if (Array.isArray(value)) return value.map(parameter);
    if (typeof value !== "string") return value;
    const named = byText.get(value);
    if (named !== undefined) return named;
    if (ourWords.has(value) || dateOrTime.test(value)) return value;
    left++;
    return leftOut;
  };
  return {
    id,
    words: (text) => {
      if (text === null || isVouched(text)) return text;
      left++;
      return null;
    },
    parameter: <T>(value: T) => parameter(value) as T,
    count: () => left,
  };
}

/**
 * Whether nobody can be named by a text: every run of letters in it is a vouched
 * word or a code beside a number.
 *
 * @example isVouched("otter-formula-2") // true
 */
export function isVouched(text: string): boolean {
  return (
    // A long number may be a telephone's; other signs may spell a name in their own way.
    !/\d{7}/.test(text) &&
    /^[\p{L}\p{M}\p{N}\s.,:;()/_+#%&-]*$/u.test(text) &&
    [...text.matchAll(/\p{L}[\p{L}\p{M}]*/gu)].every(
      ({ 0: run, index }) => vouchedWords.has(run.toLowerCase()) || isCode(run, index, text),
    )
  );
}

/**
 * A letter beside a number anywhere; two letters of one size, or three that cannot be
 * spoken, at a number ("SC2", "kh-03"). "Bob 3", "Bo-3" and "ANN-3" may be somebody.
 */
function isCode(run: string, at: number, text: string): boolean {
  if (/^[a-z]$/i.test(run)) return /\d/.test(text);
  const atNumber =
    /\d[-_.]?$/.test(text.slice(0, at)) || /^[-_.]?\d/.test(text.slice(at + run.length));
  return (
    atNumber &&
    /^([A-Z]{2}|[a-z]{2}|[^\P{ASCII}aeiouy]{3})$/u.test(run.length === 3 ? run.toLowerCase() : run)
  );
}
