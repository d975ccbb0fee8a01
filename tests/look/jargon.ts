/**
 * Words of statistics that no first layer may use: names of tests and criteria,
 * degrees of freedom, likelihoods, standard scores. They live in the folded
 * method, each with a line of what it means.
 */
const jargon =
  /(?<![\w-])p (?:[<\d]|of |is |below )|\bspreads?\b(?! (?:of|from|by|about|over|alike))|\bz\b|\bz-score|\bSE\b|\bAICc?\b|\bBayes|likelihood|\bresiduals?\b|degrees of freedom|log-rank|least[- ]squares|\blogarithm|\bFieller|\bHolm|\bWelch|\bHedges|\bCox\b|\bKaplan|\bAalen|\bTurnbull|\bMAD\b|covarian|autocorrelat|\bquantile|\bchi-squared/;

/** What is said in jargon, each with what stands around it; quotations of a file are not read. */
export function jargonIn(text: string): string[] {
  const read = text.replace(/“[^”]*”|"[^"]*"/g, "“”").replaceAll("\u00a0", " ");
  const found = jargon.exec(read);
  if (found === null) return [];
  return [`${found[0]}: …${read.slice(Math.max(0, found.index - 60), found.index + 60)}…`];
}
