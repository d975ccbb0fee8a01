import { measureText } from "./measure-text.js";

const ellipsis = "\u2026";

/**
 * A text in lines no wider than `width` pixels. Breaks at spaces, inside a word
 * only where the word alone is wider than a line. What does not fit into
 * `mostLines` ends in an ellipsis.
 *
 * @example wrapText("Mass of Pimmer by age", 90, 15, true, 3) // ["Mass of", "Pimmer by", "age"]
 */
export function wrapText(
  text: string,
  width: number,
  size: number,
  bold: boolean,
  mostLines: number,
): string[] {
  const fits = (words: string) => measureText(words, size, bold) <= width;
  const lines: string[] = [];
  let line = "";
  // What lies beyond the line after the last changes nothing, however much it is.
  for (const word of piecesOf(text, fits)) {
    if (lines.length > mostLines) break;
    const longer = line === "" ? word : `${line} ${word}`;
    if (fits(longer)) line = longer;
    else {
      lines.push(line);
      line = word;
    }
  }
  lines.push(line);
  if (lines.length <= mostLines) return lines;
  const last = cutEnd(lines.slice(mostLines - 1, mostLines + 1).join(" "), fits);
  return [...lines.slice(0, mostLines - 1), last];
}

/**
 * Names short enough for an axis or a legend: a name wider than `width` pixels
 * loses its middle, because animals are told apart by what stands at the two
 * ends ("Tazzle the\u2026 (O24-01)"). Names that differ stay different.
 *
 * @example shortNames(["Fern (O24-02)"], 220, 12).get("Fern (O24-02)") // "Fern (O24-02)"
 */
export function shortNames(
  names: readonly string[],
  width: number,
  size: number,
): ReadonlyMap<string, string> {
  const short = new Map<string, string>();
  const taken = new Set<string>();
  for (const name of names) {
    if (short.has(name)) continue;
    const cut = cutMiddle(name, (words) => measureText(words, size, false) <= width);
    let label = cut;
    for (let n = 2; taken.has(label); n++) label = `${cut} ${n}`;
    taken.add(label);
    short.set(name, label);
  }
  return short;
}

type Fits = (words: string) => boolean;

/** The words of a text in pieces that each fit; nearly always the words themselves. */
function* piecesOf(text: string, fits: Fits): Generator<string> {
  for (const word of text.split(/\s+/)) {
    let part = "";
    for (const character of word) {
      if (part !== "" && !fits(part + character)) {
        yield part;
        part = "";
      }
      part += character;
    }
    yield part;
  }
}

function cutEnd(text: string, fits: Fits): string {
  const characters = [...text];
  const kept = mostThat(1, characters.length, (n) =>
    fits(characters.slice(0, n).join("") + ellipsis),
  );
  return characters.slice(0, kept).join("").trimEnd() + ellipsis;
}

function cutMiddle(text: string, fits: Fits): string {
  if (fits(text)) return text;
  const characters = [...text];
  const cut = (kept: number) => {
    // Two parts in five go to the end, where the id stands.
    const end = Math.floor(0.4 * kept);
    const start = characters.slice(0, kept - end).join("");
    return `${start.trimEnd()}${ellipsis}${characters.slice(characters.length - end).join("")}`;
  };
  const kept = mostThat(1, characters.length - 1, (n) => fits(cut(n)));
  return kept < 2 ? ellipsis : cut(kept);
}

/** The largest whole number that passes, where all below it do; `least` where none does. */
function mostThat(least: number, most: number, passes: (n: number) => boolean): number {
  let [low, high] = [least, Math.max(least, most)];
  while (low < high) {
    const middle = Math.ceil((low + high) / 2);
    if (passes(middle)) low = middle;
    else high = middle - 1;
  }
  return low;
}
