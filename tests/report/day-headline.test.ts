import { describe, expect, it } from "vitest";
import type { AnimalLevel } from "../../src/flags/levels/level.js";
import { dayHeadline } from "../../src/report/day/day-headline.js";

/** An animal as far as the headline reads it. */
const inDanger = (name: string, act: AnimalLevel["act"]) =>
  ({ animalId: name, name, level: "danger", act, reasons: [] }) as unknown as AnimalLevel;

describe("the headline of the day", () => {
  // Whoever is not named is fed: a count of "others" tells nobody whom to pass over.
  it("names every animal that must not be fed, however many are in danger", () => {
    const unfed = ["Abble", "Brindo", "Cuffet", "Dornick", "Eftle"];
    const fed = ["Fumbo", "Grettle"];
    const text = dayHeadline(
      [
        ...fed.map((name) => inDanger(name, "call now, feed as ordered")),
        ...unfed.map((name) => inDanger(name, "do not feed until spoken")),
      ],
      null,
    );
    const [inAll, notFed] = text.split("Do not feed ");
    expect(inAll).toContain("and 4 others");
    for (const name of unfed) expect(notFed).toContain(name);
    expect(notFed).not.toContain("other");
    for (const name of fed) expect(notFed).not.toContain(name);
  });

  it("never calls a day calm on which somebody died or left", () => {
    const calm = { ...inDanger("Abble", "call now, feed as ordered"), level: "nothing raised" };
    const text = dayHeadline([calm as AnimalLevel], null, ["Abble (died)"]);
    expect(text).toBe(
      "By the animals table the stay of Abble (died) ended on this very day: ask before anything else is given.",
    );
  });
});
