import { type NamedAnimal, withNamedAnimals } from "./animal-names.js";
import { type NamedDiet, withNamedDiets } from "./diet-names.js";

/**
 * The parts of a page with animals and diets under their names.
 *
 * @example withNames({ said: "O24-01 ate clam-2." }, { animals: [{ animalId: "O24-01", name: "Lozzengrit" }], diets: [{ dietId: "clam-2", name: "clam meat" }] }).said // "Lozzengrit ate clam meat."
 */
export function withNames<Page>(
  page: Page,
  { animals, diets }: { animals: readonly NamedAnimal[]; diets: readonly NamedDiet[] },
): Page {
  return withNamedAnimals(withNamedDiets(page, diets), animals);
}
