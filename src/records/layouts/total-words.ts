/** Words that mark a row or column as made from the others, in the languages of our headings. */
const words =
  /^(?:grand |sub|sub-|daily |weekly )?(?:totals?|sums?|mean|average|avg\.?|median|min(?:imum)?|max(?:imum)?|count|n =.*|summe|gesamt|mittel(?:wert)?|durchschnitt|somme|moyenne|suma|media|promedio|Σ|ø)\b:?(?: .*)?$/iu;

/** Whether a label says that its row or column was made from others. @example isTotal("Mean") // true */
export function isTotal(label: string): boolean {
  return words.test(label.trim());
}
