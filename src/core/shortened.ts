/**
 * Words cut after so many letters, visibly; shorter ones stay whole.
 *
 * @example shortened("quiet, lies on its side", 6) // "quiet,…"
 */
export const shortened = (words: string, most: number): string =>
  words.length > most ? `${words.slice(0, most).trimEnd()}…` : words;
