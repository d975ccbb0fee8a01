/**
 * Words cut after so many letters, visibly and never within a letter; shorter ones stay whole.
 *
 * @example shortened("quiet, lies on its side", 6) // "quiet,…"
 */
export const shortened = (words: string, most: number): string =>
  words.length > most
    ? `${words
        .slice(0, most)
        .replace(/[\uD800-\uDBFF]$/, "")
        .trimEnd()}…`
    : words;

/**
 * Words in so many letters, the mark that they were cut included.
 *
 * @example fitted("weighings of spring", 10) // "weighings…"
 */
export const fitted = (words: string, most: number): string =>
  words.length > most ? shortened(words, most - 1) : words;
