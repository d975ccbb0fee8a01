import type { StaysInPlace } from "../../analysis/stays-by-place.js";
import { say } from "../section/say.js";
import { type Table, table } from "../section/section.js";

/** Where the animals lived. */
export function placesTable(places: readonly StaysInPlace[]): Table {
  return table(
    "places",
    say("report-places"),
    [
      { title: "Species" },
      { title: "Place" },
      { title: "Animals", align: "number" },
      { title: "Animal-days", align: "number", digits: 6 },
      { title: "Median stay", unit: "d", align: "number", digits: 3 },
      { title: "Median age at entry", unit: "d", align: "number", digits: 3 },
      { title: "Most at once", align: "number" },
      { title: "There now", align: "number" },
    ],
    places.map((p) => [
      p.species,
      p.place,
      p.animals,
      Math.round(p.animalDays),
      p.stayD,
      p.fromAgeD,
      p.most,
      p.now,
    ]),
    say("report-places-none"),
  );
}
