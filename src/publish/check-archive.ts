import { createHash } from "node:crypto";
import { readFile } from "node:fs/promises";
import { join, resolve } from "node:path";
import type { ArchivedStudy } from "../archive/archived-study.js";
import { loadEngine, quoted } from "../archive/load-engine.js";
import { pathIn, readList } from "../archive/open-archive.js";
import type { LongWork } from "../core/long-work.js";
import { stopIfCancelled } from "../core/long-work.js";
import { filesOfArchive } from "./archive-folder.js";
import { readManifest } from "./manifest.js";

export interface ArchiveFault {
  readonly facility: string | null;
  readonly study: string | null;
  /** The file, or the table, that it is about. */
  readonly where: string;
  readonly what:
    | "missing"
    | "changed"
    | "rows differ"
    | "accepted rows differ"
    | "left by a run that was killed"
    | "of nobody";
  /** What there is, and what there should be. */
  readonly has: number | null;
  readonly should: number | null;
}

export interface CheckedArchive {
  readonly studies: readonly ArchivedStudy[];
  readonly files: number;
  readonly rows: number;
  readonly bytes: number;
  readonly faults: readonly ArchiveFault[];
}

/**
 * Holds an archive against its list: every file is there, byte for byte as it was written
 * and with as many rows; every accepted row of every study is in it; and nothing lies
 * beside that no study names.
 *
 * @throws UsageError where DuckDB is absent or the folder is no archive.
 * @example (await checkArchive("houses")).faults.length // 0
 */
export async function checkArchive(
  folder: string,
  work: Pick<LongWork, "signal" | "onProgress"> = {},
): Promise<CheckedArchive> {
  const out = resolve(folder);
  const engine = await loadEngine();
  try {
    const studies = await readList(engine, out);
    const faults: ArchiveFault[] = [];
    for (const [i, study] of studies.entries()) {
      stopIfCancelled(work.signal);
      work.onProgress?.({ done: i, total: studies.length, doing: `checking ${study.facility}` });
      const whole = await wholeFiles(out, study, faults);
      const rowsIn = await rowsOf(engine, out, whole);
      for (const file of study.files) {
        const has = rowsIn.get(pathIn(out, file.path));
        if (has !== undefined && has !== file.rows)
          faults.push({
            ...of(study),
            where: file.path,
            what: "rows differ",
            has,
            should: file.rows,
          });
      }
      faults.push(...unbalanced(study));
    }
    faults.push(...(await strangers(out, studies)));
    const files = studies.flatMap((s) => s.files);
    const sum = (pick: (f: (typeof files)[number]) => number) =>
      files.reduce((n, f) => n + pick(f), 0);
    return {
      studies,
      files: files.length,
      rows: sum((f) => f.rows),
      bytes: sum((f) => f.bytes),
      faults,
    };
  } finally {
    engine.close();
  }
}

const of = ({ facility, name, study }: ArchivedStudy) => ({ facility, study: name ?? study });

/** Files that are byte for byte as they were written; the others become faults. */
async function wholeFiles(
  out: string,
  study: ArchivedStudy,
  faults: ArchiveFault[],
): Promise<string[]> {
  const whole: string[] = [];
  for (const { path, sha256, bytes } of study.files) {
    const content = await readFile(join(out, path)).catch(() => null);
    if (content === null)
      faults.push({ ...of(study), where: path, what: "missing", has: null, should: bytes });
    else if (createHash("sha256").update(content).digest("hex") !== sha256)
      faults.push({
        ...of(study),
        where: path,
        what: "changed",
        has: content.length,
        should: bytes,
      });
    else whole.push(path);
  }
  return whole;
}

async function rowsOf(
  engine: Awaited<ReturnType<typeof loadEngine>>,
  out: string,
  paths: readonly string[],
): Promise<Map<string, number>> {
  if (paths.length === 0) return new Map();
  const list = paths.map((path) => quoted(pathIn(out, path))).join(", ");
  const rows = await engine.rows(
    `SELECT file_name, num_rows FROM parquet_file_metadata([${list}])`,
  );
  const asked = new Map(paths.map((path) => [pathIn(out, path).replace(/\[(.)\]/g, "$1"), path]));
  return new Map(
    rows.map((row) => [
      pathIn(out, asked.get(String(row["file_name"])) ?? ""),
      Number(row["num_rows"]),
    ]),
  );
}

/** Rows in = accepted + set aside, and every accepted row is in the archive. */
function unbalanced(study: ArchivedStudy): ArchiveFault[] {
  const tables = [...new Set(study.counts.map((c) => c.table))];
  return tables.flatMap((table) => {
    const accepted = study.counts.reduce((n, c) => n + (c.table === table ? c.accepted : 0), 0);
    const should = accepted - (study.leftOut[table] ?? 0);
    const has = study.files.reduce((n, f) => n + (f.table === table ? f.rows : 0), 0);
    // Animals without a usable row of their own stand in beside the accepted ones.
    const fits = table === "animals" ? has >= should : has === should;
    return fits
      ? []
      : [{ ...of(study), where: table, what: "accepted rows differ" as const, has, should }];
  });
}

async function strangers(out: string, studies: readonly ArchivedStudy[]): Promise<ArchiveFault[]> {
  const named = new Set(studies.flatMap((s) => s.files.map((f) => f.path)));
  const known = new Set((await readManifest(out)).generations["archive"] ?? []);
  const found = await filesOfArchive(out);
  return found
    .filter((path) => !named.has(path))
    .map((path) => ({
      facility: null,
      study: null,
      where: path,
      what: known.has(path.slice(path.lastIndexOf("/") + 1, -".parquet".length))
        ? ("left by a run that was killed" as const)
        : ("of nobody" as const),
      has: null,
      should: null,
    }));
}
