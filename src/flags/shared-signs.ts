import { type Notice, notice } from "../core/notice.js";
import type { AnimalDay } from "./animal-day/flag.js";
import type { Signal } from "./animal-day/signal.js";

/** Rules whose raising in several animals on one day points to something they share. */
const ofShared: ReadonlySet<Signal["kind"]> = new Set<Signal["kind"]>([
  "temperature",
  "signs",
  "glucose",
  "repeated vomit",
  "bloat",
  "blood",
  "not suckling",
  "cannot be roused",
  "trouble breathing",
  "dehydrated",
  "watery stool",
  "no feed",
  "missed feed",
  "acute loss",
  "loss",
  "refusals",
  "eaten below habit",
  "eaten below plan",
]);

/** So many animals, or two where they are half of all in care (common practice). */
const fewest = 3;

/**
 * What was raised of several animals on one day, stated before each one's own: milk,
 * water, warmth, people or an illness that goes round. No level is lowered by it.
 *
 * @example sharedSigns(days)[0]?.parameters // { what: "watery stool", n: 3, of: 5, by: ["P1", "P2", "P4"] }
 */
export function sharedSigns(days: readonly AnimalDay[]): readonly Notice[] {
  const by = new Map<string, Set<string>>();
  for (const day of days)
    for (const signal of day.raised) {
      if (!ofShared.has(signal.kind)) continue;
      for (const what of namesOf(signal))
        by.set(what, (by.get(what) ?? new Set()).add(day.name ?? day.animalId));
    }
  return [...by].flatMap(([what, animals]) => {
    const n = animals.size;
    if (n < fewest && (n < 2 || 2 * n < days.length)) return [];
    return [
      notice("shared-signs", "problem", { what, n, of: days.length, by: [...animals].sort() }),
    ];
  });
}

/** What a signal says, in the words of its sign; a temperature by its side. */
function namesOf(signal: Signal): readonly string[] {
  if (signal.kind === "temperature") return [signal.direction === "low" ? "cold" : "hot"];
  if (signal.kind !== "signs") return [signal.kind];
  const what = signal.sentence.parameters["what"];
  return typeof what === "string" ? what.split(", ") : [];
}
