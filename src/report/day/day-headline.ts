import type { AnimalLevel, Level } from "../../flags/levels/level.js";
import type { ShiftPlan } from "../../planning/plan-shift.js";
import { say } from "../section/say.js";
import { notToBeFed } from "./not-to-be-fed.js";

/** More names than this are counted; of those who must not be fed, only beyond a dozen. */
const mostNamed = 3;
const mostUnfed = 12;

/** Nothing by mouth, ordered in so many words, leaves nothing to ask. */
const plainNil: ReadonlySet<string> = new Set(["order-nil-by-mouth", "order-nil-from"]);

/**
 * The day in one or two sentences: who is in danger, then how many need what, and
 * whose orders must be asked about though nothing is raised of the animal itself.
 * `left`: who, by the animals table, left or died on the day itself.
 */
export function dayHeadline(
  levels: readonly AnimalLevel[],
  shift: ShiftPlan | null,
  left: readonly string[] = [],
): string {
  if (levels.length === 0) return say("day-nobody");
  const of = levels.length;
  const at = (level: Level) => levels.filter((l) => l.level === level);
  const named = (who: readonly AnimalLevel[], most = mostNamed) => [
    ...who.slice(0, most).map((l) => l.name ?? l.animalId),
    ...(who.length > most ? [say("day-others", { n: who.length - most })] : []),
  ];
  const danger = at("danger");
  const unfed = danger.filter(notToBeFed);
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
            unfed: named(unfed, mostUnfed),
            silent: danger.every((l) => l.act === "go and look now"),
          }),
        ]),
    ...(left.length === 0 ? [] : [say("day-left", { names: left })]),
    ...(looks === 0 ? [] : [say("day-looks", { n: looks, of })]),
    ...(measures === 0 ? [] : [say("day-measures", { n: measures, of })]),
    ...(unjudged === 0 ? [] : [say("day-unjudged", { n: unjudged, of })]),
  ];
  const orderOf = (l: AnimalLevel) =>
    shift?.animals.find((s) => s.animalId === l.animalId)?.order ?? null;
  const nil = levels.filter((l) => orderOf(l)?.state === "nothing by mouth");
  const askedFor = levels.filter(
    (l) =>
      l.level !== "danger" &&
      orderOf(l)?.said.some((n) => n.level !== "info" && !plainNil.has(n.code)),
  );
  const orders = [
    ...(nil.length === 0 ? [] : [say("day-nil-for", { names: named(nil, mostUnfed) })]),
    ...(askedFor.length === 0 ? [] : [say("day-orders", { names: named(askedFor) })]),
  ];
  return [...(said.length === 0 ? [say("day-calm", { n: of })] : said), ...orders].join(" ");
}
