import type { FedAtAge } from "../../analysis/feeding-by-age.js";
import { say } from "../section/say.js";
import { type Column, type Table, table } from "../section/section.js";

const number = (title: string, unit: string | null = null, digits = 3): Column => ({
  title,
  align: "number",
  digits,
  ...(unit === null ? {} : { unit }),
});

/** How each species was fed, by age: what was ordered, how often, and what was eaten of it. */
export function feedingByAgeTable(feeding: readonly FedAtAge[]): Table {
  return table(
    "feeding-by-age",
    say("report-feeding-by-age"),
    [
      { title: "Species" },
      number("From age", "d"),
      number("to", "d"),
      number("Animals"),
      { title: "Days", align: "number", digits: 5 },
      number("Feeds ordered", "a day"),
      number("Feeds given", "a day"),
      number("Between feeds", "h"),
      number("Longest pause", "h"),
      number("Eaten of ordered", "%", 2),
      number("Eaten, share of body mass", "%/d"),
      number("Energy eaten", "kcal/kg^0.75/d"),
      number("Eaten as solids", "% of energy", 2),
    ],
    feeding.map((f) => [
      f.species,
      f.fromD,
      f.toD,
      f.animals,
      f.days,
      f.feedsOrdered,
      f.feedsGiven,
      f.betweenH,
      f.longestH,
      f.ofOrderedPct,
      f.shareOfMassPct,
      f.kcalPerMetabolicKg,
      f.solidsPct,
    ]),
    say("report-feeding-by-age-none"),
  );
}
