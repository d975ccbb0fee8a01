/**
 * Breaks a text into lines of at most `width` characters, at blanks where there
 * are any; later lines begin with `indent` more blanks than the first. Nothing
 * is left out.
 *
 * @example wrapText("  mass_g: this is not a number", 24, 2) // ["  mass_g: this is not a", "    number"]
 */
export function wrapText(text: string, width: number, indent = 2): string[] {
  if (text.length <= width) return [text.trimEnd()];
  const own = /^ */.exec(text)![0].length;
  const later = " ".repeat(Math.min(own + indent, Math.max(0, width - 20)));
  const lines: string[] = [];
  let line = " ".repeat(own);
  let empty = true;
  for (const word of text.trim().split(/ +/)) {
    let rest = word;
    if (!empty && line.length + 1 + rest.length > width) {
      lines.push(line);
      line = later;
      empty = true;
    }
    // A word longer than a line is cut where the line ends, and goes on in the next.
    while (line.length + rest.length > width && empty) {
      const room = Math.max(1, width - line.length);
      lines.push(line + rest.slice(0, room));
      rest = rest.slice(room);
      line = later;
    }
    if (rest === "") continue;
    line += empty ? rest : ` ${rest}`;
    empty = false;
  }
  if (!empty || lines.length === 0) lines.push(line.trimEnd());
  return lines;
}
