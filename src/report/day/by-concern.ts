import type { AnimalLevel } from "../../flags/levels/level.js";
import { boardLevels } from "../section/board.js";

/** Animals in the order in which the pages of the day show them: the most concern first, then by name. */
export function byConcern(levels: readonly AnimalLevel[]): readonly AnimalLevel[] {
  const acts = ["do not feed until spoken", "call now, feed as ordered", "go and look now"];
  const act = (l: AnimalLevel) => (l.act === null ? acts.length : acts.indexOf(l.act));
  const name = (l: AnimalLevel) => l.name ?? l.animalId;
  return [...levels].sort(
    (a, b) =>
      boardLevels.indexOf(a.level) - boardLevels.indexOf(b.level) ||
      act(a) - act(b) ||
      (name(a) < name(b) ? -1 : name(a) > name(b) ? 1 : 0),
  );
}
