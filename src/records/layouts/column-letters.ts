/** A column as spreadsheets name it. @example columnLetters(27) // "AB" */
export function columnLetters(index: number): string {
  let letters = "";
  for (let i = index; i >= 0; i = Math.floor(i / 26) - 1)
    letters = String.fromCharCode(65 + (i % 26)) + letters;
  return letters;
}

/** The place of a column, counted from 0; -1 for what is no name of one. */
export function columnIndex(letters: string): number {
  if (!/^[A-Z]{1,3}$/i.test(letters)) return -1;
  let index = 0;
  for (const letter of letters.toUpperCase()) index = index * 26 + letter.charCodeAt(0) - 64;
  return index - 1;
}
