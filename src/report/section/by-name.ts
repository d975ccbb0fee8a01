import type { Notice } from "../../core/notice.js";

/**
 * A sentence about an animal by its name, where it has one.
 *
 * @example byName(sentence, { animalId: "P1", name: "Mica" }).parameters.animal // "Mica"
 */
export function byName(
  sentence: Notice,
  { animalId, name }: { readonly animalId: string; readonly name: string | null },
): Notice {
  if (name === null || sentence.parameters["animal"] !== animalId) return sentence;
  return { ...sentence, parameters: { ...sentence.parameters, animal: name } };
}
