/**
 * Eaten or kept: whatever speaks of what an animal took in says which of the two it
 * means. Appetite, whether an order was kept, and overfeeding are asked of what was eaten;
 * growth, energy and conversion of what was kept (eaten less what came up).
 */
const speaksOfIntake =
  /\bintakes?\b|\b(?:took|takes?|taken) in\b|\bfood\b|\bkcal(?: a day|\/d|\/kg| per day)|\benergy\b|\bfeed conversion\b|\bconvert(?:s|ed)?\b|\bFCR\b|\bper 1000?\s?kcal|\bgain per (?:feed|kcal)\b|\bfeed per gain\b|\bof body mass\b/i;

const saysWhich = /\beat(?:s|en|ing)?\b|\bate\b|\bappetite\b|\bkept\b|\bkeeps?\b/i;

/** What is no intake of an animal, and is not read: what a diet holds, what is ordered or needed. */
const ofAnother: readonly RegExp[] = [
  /\benergy: (?:stated|general|modified|fish)|\bEnergy \(kcal\/g\)|\benergy that (?:\S+ ){1,3}holds\b|\benergy of \S+ kcal\/g|\benergy of a ration\b/gi,
  /\bkcal a day (?:suggested|were ordered)\b|\benergy demand\b|\bration (?:kcal|percent) \S+|\bration(?:, by the table of diets)? \((?:kcal\/d|% of body mass)\)/gi,
  // A relative gain; and the name of a rival, whose own row says that it is of what is kept.
  /\bgain[^.;:]*\bof body mass\b|\bconverts poorly or loses\b/gi,
];

/** What is left of a figure with its unit, which stands under a heading that says which. */
const figures =
  /kcal\/\S*|% of (?:body mass|energy)\S*|\bg per 1000? kcal|\bSD\b|[^A-Za-z]|\bto\b|\bbetween\b|\band\b/g;

/** The text where it speaks of intake and does not say which; null where it does. */
export function unnamedIntake(text: string): string | null {
  // What stands between quotation marks repeats a file; in angles, the name of a value.
  const plain = text.replace(/“[^”]*”|"[^"]*"/g, "“”").replace(/<[^>]*>/g, "X");
  const read = ofAnother.reduce((left, each) => left.replace(each, ""), plain);
  if (plain.replace(figures, "").length < 3) return null;
  return speaksOfIntake.test(read) && !saysWhich.test(read) ? text : null;
}
