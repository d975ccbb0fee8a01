/** How an animal is named in tables: "Lozzengrit (O24-01)", or its id alone. */
export function animalLabel(animal: {
  readonly animalId: string;
  readonly name: string | null;
}): string {
  return animal.name === null ? animal.animalId : `${animal.name} (${animal.animalId})`;
}
