import type { AnimalLevel, Level } from "../../flags/levels/level.js";
import { say } from "../section/say.js";

/** More names than this are counted. */
const mostNamed = 3;

/** The day in one or two sentences: who is in danger, then how many need what. */
export function dayHeadline(levels: readonly AnimalLevel[]): string {
  if (levels.length === 0) return say("day-nobody");
  const of = levels.length;
  const at = (level: Level) => levels.filter((l) => l.level === level);
  const named = (who: readonly AnimalLevel[]) => [
    ...who.slice(0, mostNamed).map((l) => l.name ?? l.animalId),
    ...(who.length > mostNamed ? [say("day-others", { n: who.length - mostNamed })] : []),
  ];
  const danger = at("danger");
  const unfed = danger.filter((l) => l.act === "do not feed until spoken");
  const [looks, measures, unjudged] = [
    at("second look").length,
    at("measure first").length,
    at("not judged").length,
  ];
  const said = [
    ...(danger.length === 0
      ? []
      : [
          say("day-danger", {
            names: named(danger),
            n: danger.length,
            unfed: named(unfed),
            silent: danger.every((l) => l.act === "go and look now"),
          }),
        ]),
    ...(looks === 0 ? [] : [say("day-looks", { n: looks, of })]),
    ...(measures === 0 ? [] : [say("day-measures", { n: measures, of })]),
    ...(unjudged === 0 ? [] : [say("day-unjudged", { n: unjudged, of })]),
  ];
  return said.length === 0 ? say("day-calm", { n: of }) : said.join(" ");
}
