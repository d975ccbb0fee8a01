import { describe, expect, it } from "vitest";
import { withNamedAnimals } from "../../src/report/section/animal-names.js";
import { list, table } from "../../src/report/section/section.js";

const animals = [
  { animalId: "O24-01", name: "Lozzengrit" },
  { animalId: "O24-011", name: "Skoffelty" },
  { animalId: "A2", name: "Plorrimo" },
  { animalId: "7", name: "Squamblet" },
];
const said = (text: string) => withNamedAnimals(list([text]), animals).items[0];

describe("animals by their names", () => {
  it.each([
    ["O24-01 was not weighed.", "Lozzengrit was not weighed."],
    ["2 of 2 others (O24-01 and O24-011)", "2 of 2 others (Lozzengrit and Skoffelty)"],
    // In brackets after its own name an id tells animals of one name apart.
    ["Lozzengrit (O24-01) eats", "Lozzengrit (O24-01) eats"],
    // What a file says is repeated letter by letter.
    ['written "O24-01" there', 'written "O24-01" there'],
    // Ids that are words or numbers of the page stay.
    ["A2 is the mass gained, 7 days", "A2 is the mass gained, 7 days"],
    ["batch O24-01-b", "batch O24-01-b"],
  ])("%s", (text, named) => {
    expect(said(text)).toBe(named);
  });

  it("keep ids where rows are told apart, and in columns that repeat a file", () => {
    const rows = table(
      "t",
      "c",
      [{ title: "Animal" }, { title: "As written", asWritten: true }],
      [["O24-01", "O24-01"]],
    );
    expect(withNamedAnimals(rows, animals).rows).toEqual([["Lozzengrit (O24-01)", "O24-01"]]);
    expect(withNamedAnimals({ animalId: "O24-01", href: "O24-01.html" }, animals)).toEqual({
      animalId: "O24-01",
      href: "O24-01.html",
    });
  });
});
