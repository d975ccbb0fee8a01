/** One piece of a written line: a word, a number, or a mark. */
export interface Token {
  readonly text: string;
  readonly is: "word" | "number" | "stop" | "mark";
}

/**
 * Cuts a written line into words, numbers and marks, lower case. Short forms are
 * written out ("didn't": "did not"), hyphens inside words become spaces, and marks
 * that end a statement are told from the others.
 *
 * @example tokensOf("Not vomiting, 2x").map((t) => t.text) // ["not", "vomiting", ",", "2", "x"]
 */
export function tokensOf(line: string): Token[] {
  return [...plainLine(line).matchAll(pieces)].map(([text]) => ({
    text,
    is: /^\p{L}/u.test(text)
      ? "word"
      : /^\d/.test(text)
        ? "number"
        : /^[,;.!()[\]/|]$/.test(text)
          ? "stop"
          : "mark",
  }));
}

const pieces = /\d+(?:[.,:]\d+)*|\p{L}+|\+\/-|\+{1,4}|\?+|--?|[^\s\p{L}\d]/gu;

/** The line in the form in which it is compared: lower case, one kind of hyphen and quote. */
export function plainLine(line: string): string {
  return line
    .replace(/[º˚]/g, "°")
    .normalize("NFKC")
    .toLowerCase()
    .replace(/[’‘`´]/g, "'")
    .replace(/[–—−‐‑]/g, "-")
    .replace(/\bwon't\b/g, "will not")
    .replace(/\bcan't\b|\bcannot\b/g, "can not")
    .replace(/n't\b/g, " not")
    .replace(/\bw\/o\b/g, "without")
    .replace(/\bn\/a\b|\bn\.a\.?(?=\s|$)/g, "na")
    .replace(/\bn\/d\b|\bn\.d\.?(?=\s|$)/g, "nd")
    .replace(/&/g, " and ")
    .replace(/(?<=\p{L})-(?=\p{L})/gu, " ")
    .replace(/\s+/g, " ")
    .trim();
}
