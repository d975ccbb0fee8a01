import { createRequire } from "node:module";
import { UsageError } from "../core/usage-error.js";

/** A value of one cell, as it goes in and comes out. Instants are epoch milliseconds, days text. */
export type Cell = string | number | boolean | null;

/** The engine under the archive, as far as the archive needs it. */
export interface Engine {
  run(sql: string): Promise<void>;
  /** Every row of an answer; for sums, whose answers are small. */
  rows(sql: string): Promise<Record<string, Cell>[]>;
  /** An answer of any length, some thousand rows at a time. */
  each(sql: string, visit: (rows: readonly Record<string, Cell>[]) => void): Promise<void>;
  /** Puts columns into a table made before; texts, numbers and yes or no. */
  append(table: string, columns: readonly AppendedColumn[]): Promise<void>;
  close(): void;
}

export interface AppendedColumn {
  readonly type: "text" | "number" | "yes or no";
  readonly values: readonly Cell[];
}

export interface EngineOptions {
  /** Most memory that the engine takes, MB; beyond it, it works on disk. Default 512. */
  readonly memoryMb?: number;
  /** Where it works beyond its memory. Default: nowhere, and it says that memory ran out. */
  readonly scratch?: string;
  /** How the package is loaded. Default: by its name. */
  readonly load?: () => Promise<unknown>;
}

/** What to type where the engine is absent. */
const packageName = "@duckdb/node-api@1.5.6-r.1";
const rowsOfChunk = 2048;
/** In a variable, so that the compiler does not ask for a package that may be absent. */
const engineName: string = packageName.slice(0, packageName.lastIndexOf("@"));

/** Whether the engine is installed, without loading it. @example engineIsInstalled() // true */
export function engineIsInstalled(): boolean {
  try {
    createRequire(import.meta.url).resolve(engineName);
    return true;
  } catch {
    return false;
  }
}

/** What is used of the package; its own types are not there where it is absent. */
interface DuckDb {
  readonly DuckDBInstance: { create(path: string): Promise<Instance> };
  readonly DuckDBDataChunk: {
    create(
      types: readonly unknown[],
      rows: number,
    ): { setColumns(columns: readonly (readonly Cell[])[]): void };
  };
  readonly VARCHAR: unknown;
  readonly DOUBLE: unknown;
  readonly BOOLEAN: unknown;
}
interface Instance {
  connect(): Promise<Connection>;
  closeSync(): void;
}
interface Connection {
  run(sql: string): Promise<unknown>;
  runAndReadAll(sql: string): Promise<{ columnNames(): string[]; getRowsJS(): unknown[][] }>;
  stream(sql: string): Promise<{
    columnNames(): string[];
    yieldRowsJs(): AsyncIterable<unknown[][]>;
  }>;
  createAppender(
    table: string,
  ): Promise<{ appendDataChunk(chunk: unknown): void; closeSync(): void }>;
  closeSync(): void;
}

/**
 * Loads the engine that holds archives, DuckDB, which is an optional package.
 *
 * @throws UsageError with the line to type where it is not installed.
 * @example const engine = await loadEngine()
 */
export async function loadEngine(options: EngineOptions = {}): Promise<Engine> {
  const load = options.load ?? (() => import(engineName));
  const duck = (await load().catch(() => null)) as DuckDb | null;
  if (duck === null) {
    throw new UsageError({
      needed: "DuckDB, the engine that holds archives",
      came: "its package is not installed",
      where: "archive",
      todo: `Type: npm install ${packageName}. Everything else works without it.`,
    });
  }
  const instance = await duck.DuckDBInstance.create(":memory:");
  const connection = await instance.connect();
  const engine = engineOn(duck, connection, () => {
    connection.closeSync();
    instance.closeSync();
  });
  // The order of rows is settled where it matters; keeping that of the files costs memory.
  await engine.run("SET preserve_insertion_order = false; SET TimeZone = 'UTC'");
  await engine.run(`SET memory_limit = '${options.memoryMb ?? 512}MB'`);
  // Nothing is fetched from anywhere: what is needed is in the package.
  await engine.run("SET autoinstall_known_extensions = false");
  await engine.run(`SET temp_directory = ${quoted(options.scratch ?? "")}`);
  return engine;
}

function engineOn(duck: DuckDb, connection: Connection, close: () => void): Engine {
  const plain = (names: readonly string[], values: readonly unknown[]) =>
    Object.fromEntries(names.map((name, i) => [name, cellOf(values[i])]));
  return {
    run: async (sql) => {
      await connection.run(sql);
    },
    rows: async (sql) => {
      const answer = await connection.runAndReadAll(sql);
      const names = answer.columnNames();
      return answer.getRowsJS().map((values) => plain(names, values));
    },
    each: async (sql, visit) => {
      const answer = await connection.stream(sql);
      const names = answer.columnNames();
      for await (const rows of answer.yieldRowsJs())
        visit(rows.map((values) => plain(names, values)));
    },
    append: (table, columns) => {
      const types = columns.map(({ type }) =>
        type === "text" ? duck.VARCHAR : type === "number" ? duck.DOUBLE : duck.BOOLEAN,
      );
      return appendChunks(duck, connection, table, types, columns);
    },
    close,
  };
}

async function appendChunks(
  duck: DuckDb,
  connection: Connection,
  table: string,
  types: readonly unknown[],
  columns: readonly AppendedColumn[],
): Promise<void> {
  const appender = await connection.createAppender(table);
  const length = columns[0]?.values.length ?? 0;
  for (let from = 0; from < length; from += rowsOfChunk) {
    const to = Math.min(length, from + rowsOfChunk);
    const chunk = duck.DuckDBDataChunk.create(types, to - from);
    chunk.setColumns(columns.map(({ values }) => values.slice(from, to)));
    appender.appendDataChunk(chunk);
  }
  appender.closeSync();
}

/** Whole numbers of 64 bits and dates of the engine as numbers and text. */
function cellOf(value: unknown): Cell {
  if (typeof value === "bigint") return Number(value);
  if (value instanceof Date) return value.getTime();
  if (value === undefined || value === null) return null;
  return value as Cell;
}

/** A text as SQL writes it. @example quoted("O'Hara") // "'O''Hara'" */
export function quoted(text: string): string {
  return `'${text.replaceAll("'", "''")}'`;
}
