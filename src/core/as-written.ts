/**
 * What somebody wrote, between quotation marks on a page: word for word, but
 * without the word that only fills the column of units, and with degrees as
 * readers write them.
 *
 * @example asWritten("1 count milk and froth") // "milk and froth"
 * @example asWritten("3 count, soft") // "3 times, soft"
 * @example asWritten("37.2 degC") // "37.2 °C"
 */
export function asWritten(written: string): string {
  return written
    .replace(/^(\d+) count\b[\s,;:]*(.*)$/su, (_, n: string, rest: string) =>
      n === "1" ? rest || "once" : rest === "" ? `${n} times` : `${n} times, ${rest}`,
    )
    .replace(/\bdeg([CF])\b/g, "°$1");
}
