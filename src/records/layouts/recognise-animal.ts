import { notice } from "../../core/notice.js";
import type { KnownAnimals } from "../known-animals.js";
import type { RawGrid, RawTable } from "../raw-table.js";
import { animalLine } from "./named-above.js";
import type { Recognised } from "./recognised.js";

/**
 * Whose rows these are, where no column says it: lines between the rows that
 * name an animal each, else one animal that a title, the sheet or the file is
 * named after. `around`: titles first, then sheet, then file.
 */
export function recogniseAnimal(
  raw: RawTable,
  grid: RawGrid,
  around: readonly string[],
  animals: KnownAnimals,
): Recognised | null {
  const lines = grid.rows.flatMap((row) => {
    const name = animalLine(row);
    return name === null || animals.meant(name) === null ? [] : [{ line: row.line, name }];
  });
  const between = lines.filter(({ line }) => line > raw.headerLine);
  if (between.length > 0 && lines.length >= 2)
    return {
      step: { layout: "animal above its rows" },
      why: notice("propose-animal-above", "info", { count: lines.length, first: lines[0]!.name }),
    };
  for (const text of around) {
    const found = animalIn(text, animals);
    if (found !== null)
      return {
        step: { layout: "one animal", animal: found },
        why: notice("propose-one-animal", "info", { animal: found, text }),
      };
  }
  return null;
}

/** The one animal a name or title speaks of: the whole of it, or one of its words. */
export function animalIn(text: string, animals: KnownAnimals): string | null {
  const whole = animals.meant(text);
  if (whole !== null) return whole.id;
  const words = text.split(/[\s_:;,.()[\]/=]+|\s-\s/).filter((word) => word.length >= 2);
  const found = new Set(
    words.flatMap((word) => {
      const meant = animals.meant(word);
      return meant === null || meant.by === "short name" ? [] : [meant.id];
    }),
  );
  const dashed = text.split(/[-\s_]+/).flatMap((word) => animals.meant(word)?.id ?? []);
  if (found.size === 0) for (const id of dashed) found.add(id);
  return found.size === 1 ? [...found][0]! : null;
}
