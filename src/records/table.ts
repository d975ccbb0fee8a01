/**
 * The rows of a table that may be long. A plain array of rows is a table as well, so
 * that a study can be made by hand; what `readStudy` gives keeps columns
 * (`ColumnTable`) and makes a row when it is asked for: the same row asked for twice
 * is equal, not the same object.
 *
 * @example study.tables.weighings.filter((w) => w.animalId === "O24-03").length
 */
export interface Table<Row> extends Iterable<Row> {
  readonly length: number;
  at(i: number): Row | undefined;
  map<T>(change: (row: Row, i: number) => T): T[];
  flatMap<T>(change: (row: Row, i: number) => T | readonly T[]): T[];
  filter(test: (row: Row, i: number) => boolean): Row[];
}
