/** How an animal is named in tables: "Lozzengrit (O24-01)", or its id alone. */
export function animalLabel(animal: {
  readonly animalId: string;
  readonly name: string | null;
}): string {
  return animal.name === null ? animal.animalId : `${animal.name} (${animal.animalId})`;
}

/** The labels of animals by their ids; an id that is no animal's stays as it is. */
export function namesOf(
  animals: readonly { readonly animalId: string; readonly name: string | null }[],
): (animalId: string) => string {
  const labels = new Map(animals.map((a) => [a.animalId, animalLabel(a)]));
  return (animalId) => labels.get(animalId) ?? animalId;
}
