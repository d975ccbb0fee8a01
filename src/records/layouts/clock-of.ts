/** A clock time, written with or without a mark, as HH:MM. */
export function clockOf(text: string): string | null {
  const m =
    /^(\d{1,2})(?:[:.h](\d{2})(?::\d\d)?|(\d{2})|h)?\s*(?:uhr|hrs?)?\s*([ap])?\.?(?:m\.?)?$/i.exec(
      text.trim(),
    );
  if (m === null) return null;
  const minutes = m[2] ?? m[3] ?? "00";
  // A bare "6" is a clock time only with am or pm, or as "6 h".
  if (m[2] === undefined && m[3] === undefined && m[4] === undefined && !/h/i.test(text))
    return null;
  let hour = Number(m[1]);
  if (m[4] !== undefined) {
    if (hour < 1 || hour > 12) return null;
    hour = (hour % 12) + (m[4].toLowerCase() === "p" ? 12 : 0);
  }
  return hour > 23 || Number(minutes) > 59 ? null : `${String(hour).padStart(2, "0")}:${minutes}`;
}
