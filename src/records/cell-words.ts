/**
 * What people and programs write into a cell where a value should be, as data:
 * readers, data dictionary and README are made from this one list. Case, a full
 * stop at the end and brackets around a word do not matter.
 */
export interface CellWords {
  readonly meaning: "error of a spreadsheet" | "not known" | "none";
  /** What becomes of the cell. */
  readonly becomes: string;
  readonly spellings: readonly string[];
}

export const cellWords: readonly CellWords[] = [
  {
    meaning: "error of a spreadsheet",
    becomes: "cannot be read: never blank, never zero",
    spellings: [
      ...["#REF!", "#N/A", "#NA", "#VALUE!", "#DIV/0!", "#NAME?", "#NUM!", "#NULL!", "#ERROR!"],
      ...["#SPILL!", "#CALC!", "#FIELD!", "#BLOCKED!", "#CONNECT!", "#UNKNOWN!", "#BUSY!"],
      ...["#GETTING_DATA", "#EXTERNAL!", "#####", "Err:502", "NaN", "Inf", "Infinity", "undefined"],
    ],
  },
  {
    meaning: "not known",
    becomes: "unknown: never zero, and not what a blank means",
    spellings: [
      ...[
        "?",
        "-",
        "--",
        "---",
        "–",
        "—",
        "...",
        "…",
        "unknown",
        "unkn",
        "unk",
        "u/k",
        "not known",
      ],
      ...["n/k", "nk", "don't know", "dont know", "do not know", "not sure", "unsure", "unclear"],
      ...[
        "na",
        "n/a",
        "n.a",
        "not available",
        "not applicable",
        "null",
        "missing",
        "lost",
        "no data",
      ],
      ...["not weighed", "not measured", "not recorded", "not noted", "not taken", "not done"],
      ...["not written", "not checked", "not entered", "not given", "not read", "not seen"],
      ...["n/d", "nd", "n/r", "nr", "nm", "n/m", "forgotten", "forgot", "illegible", "unreadable"],
      ...["not readable", "not legible", "tbc", "tbd", "tba", "to be confirmed", "to be decided"],
      ...["to follow", "pending", "later", "see notes", "see note", "xx", "xxx"],
    ],
  },
  {
    meaning: "none",
    becomes: "0, in refusals and tares only",
    spellings: ["none", "nil", "zero", "nothing", "none left", "nothing left", "no tare"],
  },
];

/** Words that stand for "not known" where a name stands; a name may well be "Na". */
const unknownNames = new Set([
  "?",
  "-",
  "--",
  "–",
  "—",
  "unknown",
  "n/a",
  "not known",
  "tbc",
  "tbd",
]);

const byWord = new Map(
  cellWords.flatMap((each) => each.spellings.map((word) => [keyOf(word), each.meaning] as const)),
);

/** Programs number their errors: Err:501 to Err:540, and a column too narrow is all hashes. */
const numberedError = /^(?:err:\d{3}|#{2,}|#[a-z0-9/_]+[!?]|[+-]?inf(?:inity)?)$/i;
const questionMarks = /^\?+$/;

/**
 * What a word in a cell means, or null for anything else.
 *
 * @example meaningOf("#REF!") // "error of a spreadsheet"
 * @example meaningOf("Not weighed.") // "not known"
 */
export function meaningOf(text: string): CellWords["meaning"] | null {
  // Most cells are numbers and times: a digit in front is no word.
  const first = text.charCodeAt(0);
  if (first >= 48 && first <= 57) return null;
  if (numberedError.test(text)) return "error of a spreadsheet";
  if (questionMarks.test(text)) return "not known";
  return byWord.get(keyOf(text)) ?? null;
}

/** The same of a cell that holds a name. @example meaningOfName("NA") // null */
export function meaningOfName(text: string): CellWords["meaning"] | null {
  if (numberedError.test(text)) return "error of a spreadsheet";
  return questionMarks.test(text) || unknownNames.has(text.toLowerCase()) ? "not known" : null;
}

function keyOf(word: string): string {
  const bare = word.trim().toLowerCase().replace(/[’`]/g, "'").replace(/\s+/g, " ");
  const inside = /^[([](.+)[)\]]$/.exec(bare)?.[1]?.trim() ?? bare;
  return /^[.…-]+$/.test(inside) ? inside : inside.replace(/[.!]$/, "");
}
