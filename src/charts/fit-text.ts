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
  for (const word of text.split(/\s+/).flatMap((each) => pieces(each, fits))) {
    const longer = line === "" ? word : `${line} ${word}`;
    if (fits(longer)) line = longer;
    else {
      lines.push(line);
      line = word;
    }
  }
  lines.push(line);
  if (lines.length <= mostLines) return lines;
  const last = cutEnd(lines.slice(mostLines - 1).join(" "), fits);
  return [...lines.slice(0, mostLines - 1), last];
}

/**
 * Names short enough for an axis or a legend: a name wider than `width` pixels
 * loses its middle, because animals are told apart by what stands at the two
 * ends ("Pimmer the\u2026 (O24-01)"). Names that differ stay different.
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

/** A word in pieces that each fit; nearly always the word itself. */
function pieces(word: string, fits: Fits): string[] {
  const parts: string[] = [];
  let part = "";
  for (const character of word) {
    if (part !== "" && !fits(part + character)) {
      parts.push(part);
      part = "";
    }
    part += character;
  }
  return [...parts, part];
}

function cutEnd(text: string, fits: Fits): string {
  const characters = [...text];
  while (characters.length > 1 && !fits(characters.join("") + ellipsis)) characters.pop();
  return characters.join("").trimEnd() + ellipsis;
}

function cutMiddle(text: string, fits: Fits): string {
  if (fits(text)) return text;
  const characters = [...text];
  for (let kept = characters.length - 1; kept >= 2; kept--) {
    // Two parts in five go to the end, where the id stands.
    const end = Math.floor(0.4 * kept);
    const start = characters
      .slice(0, kept - end)
      .join("")
      .trimEnd();
    const cut = `${start}${ellipsis}${characters.slice(characters.length - end).join("")}`;
    if (fits(cut)) return cut;
  }
  return ellipsis;
}
