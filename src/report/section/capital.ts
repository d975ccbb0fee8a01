/**
 * Words at the beginning of a sentence, a heading or a column.
 *
 * @example capital("harbour seal") // "Harbour seal"
 */
export const capital = (words: string): string => words.charAt(0).toUpperCase() + words.slice(1);
