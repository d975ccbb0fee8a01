import { noticeText } from "../../../core/catalogue.js";
import type { Wording } from "../../../core/wording.js";
import { animalLabel } from "../../section/animal-label.js";
import { type Cell, isMeasured, type Table } from "../../section/section.js";

export type SheetCell = string | number | boolean | null;

/** An animal as sheets know it. */
export interface SheetAnimal {
  readonly animalId: string;
  readonly name: string | null;
  readonly species: string;
  readonly season: string | null;
}

interface SheetColumn {
  readonly name: string;
  readonly of: (cell: Cell) => SheetCell;
}

/**
 * A table as a header and rows of bare cells for sheets, one value a cell and
 * every digit kept: a measured number becomes value, standard error, interval
 * and, where any is not defined, the reason, each in a column of its own, and its
 * unit as well where the rows have different ones. An animal becomes id, name,
 * species and season; a table of one species has that as its first column.
 */
export function sheetCells(
  table: Table,
  wording?: Wording,
  animals: readonly SheetAnimal[] = [],
): readonly [readonly string[], ...(readonly SheetCell[])[]] {
  const { columns, rows } = table.tidy ?? table;
  const titles = columns.map((c) => c.title);
  const named = (title: string) => titles.includes(title);
  const parts = columns.map((column, at) => {
    const cells = rows.map((row) => row[at] ?? null);
    if (column.title === "Animal" && animals.length > 0)
      return { at, columns: animalColumns(animals, named) };
    const measured = cells.filter(isMeasured);
    const units = [...new Set(measured.map((m) => m.unit).filter((unit) => unit !== ""))];
    const several = column.unit === undefined && units.length > 1;
    const unit = column.unit ?? (several ? undefined : units[0]);
    const name = unit === undefined ? column.title : `${column.title} (${unit})`;
    const extra: SheetColumn[] = [];
    const add = (
      suffix: string,
      of: (m: Extract<Cell, { unit: string }>) => SheetCell,
      wanted: boolean,
    ) => {
      if (wanted)
        extra.push({ name: `${name} ${suffix}`, of: (c) => (isMeasured(c) ? of(c) : null) });
    };
    add("unit", (m) => m.unit, several);
    add(
      "standard error",
      (m) => m.se ?? null,
      measured.some((m) => m.se !== undefined),
    );
    add(
      "standard deviation",
      (m) => m.sd ?? null,
      measured.some((m) => m.sd !== undefined),
    );
    const intervals = measured.some((m) => m.interval !== undefined);
    add("lower end", (m) => m.interval?.lower ?? null, intervals);
    add("upper end", (m) => m.interval?.upper ?? null, intervals);
    add(
      "n",
      (m) => m.n ?? null,
      measured.some((m) => m.n !== undefined),
    );
    add(
      "why not defined",
      (m) => (m.value === null && m.why !== undefined ? noticeText(m.why, wording) : null),
      measured.some((m) => m.value === null && m.why !== undefined),
    );
    return { at, columns: [{ name, of: plain }, ...extra] };
  });
  const species: readonly SheetCell[] =
    table.species === undefined || named("Species") ? [] : [table.species];
  const header = parts.flatMap((part) => part.columns.map((c) => c.name));
  return [
    [...species.map(() => "Species"), ...header],
    ...rows.map((row) => [
      ...species,
      ...parts.flatMap((part) => part.columns.map((c) => c.of(row[part.at] ?? null))),
    ]),
  ];
}

/** Whom a row is about: found by the label or the id that stands in the cell. */
function animalColumns(
  animals: readonly SheetAnimal[],
  named: (title: string) => boolean,
): readonly SheetColumn[] {
  const known = new Map<Cell, SheetAnimal>(
    animals.flatMap((a) => [[animalLabel(a), a] as const, [a.animalId, a] as const]),
  );
  const columns: SheetColumn[] = [
    { name: "Animal", of: (cell) => known.get(cell)?.animalId ?? plain(cell) },
    { name: "Name", of: (cell) => known.get(cell)?.name ?? null },
    { name: "Species", of: (cell) => known.get(cell)?.species ?? null },
    { name: "Season", of: (cell) => known.get(cell)?.season ?? null },
  ];
  return columns.filter((c) => c.name === "Animal" || !named(c.name));
}

/** A dash stands for nothing to the eye alone. */
function plain(cell: Cell): SheetCell {
  return isMeasured(cell) ? cell.value : cell === "–" ? null : cell;
}
