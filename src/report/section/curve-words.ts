/**
 * A curve by its name for the eye: "Double logistic". The curves of the catalogue are
 * called by words with hyphens; those of a user by whatever they were called.
 *
 * @example curveWords("double-logistic") // "Double logistic"
 * @example curveWords("von-bertalanffy-mass") // "Von Bertalanffy mass"
 */
export function curveWords(name: string): string {
  const words = name
    .replace("michaelis-menten", "Michaelis–Menten")
    .replace("bertalanffy", "Bertalanffy")
    .replaceAll("-", " ");
  return words.slice(0, 1).toUpperCase() + words.slice(1);
}
