import type { DietFed } from "../../analysis/diets-fed.js";
import { say } from "../section/say.js";
import { type Column, type Table, table } from "../section/section.js";

const number = (title: string, unit: string | null, digits: number): Column => ({
  title,
  align: "number",
  digits,
  ...(unit === null ? {} : { unit }),
});

/** What each species was fed, and what was in it. */
export function dietsFedTable(diets: readonly DietFed[]): Table {
  return table(
    "diets-fed",
    say("report-diets"),
    [
      { title: "Species" },
      { title: "Diet" },
      { title: "Kind" },
      number("Animals", null, 4),
      number("Eaten", "kg", 4),
      number("Share", "% of grams", 2),
      number("Water", "%", 3),
      number("Protein", "%", 3),
      number("Fat", "%", 3),
      number("Carbohydrate", "%", 3),
      number("Ash", "%", 2),
      number("Energy", "kcal/g", 3),
    ],
    diets.map((d) => [
      d.species,
      d.name ?? d.dietId,
      d.kind,
      d.animals,
      d.eatenG / 1000,
      d.sharePct,
      d.waterPct,
      d.proteinPct,
      d.fatPct,
      d.carbohydratePct,
      d.ashPct,
      d.kcalPerG,
    ]),
    say("report-diets-none"),
  );
}
