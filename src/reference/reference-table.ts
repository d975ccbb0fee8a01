import { type Notice, notice } from "../core/notice.js";
import { UsageError } from "../core/usage-error.js";
import { type Lms, lmsCentile, lmsZ, restrictedLmsZ } from "../stats/lms/lms-z.js";

/** One row of a reference: Box-Cox power, median and coefficient of variation at an age. */
export interface ReferenceRow extends Lms {
  readonly ageD: number;
}

/**
 * A reference one brings along or builds: rows in order of age, the unit of the
 * median, and where it comes from. Says nothing outside its first and last age.
 */
export interface ReferenceTable {
  readonly title: string;
  readonly source: string;
  readonly unit: string;
  /** Animals behind it, where known: fewer than 50 is said with every z. */
  readonly animals: number | null;
  readonly rows: readonly ReferenceRow[];
}

export interface ReferenceZ {
  /** Restricted beyond 3 SD; null outside the table. */
  readonly z: number | null;
  readonly unrestricted: number | null;
  readonly lms: Lms | null;
  /** A point outside the table is still drawn: its age and mass stand here. */
  readonly point: { readonly ageD: number; readonly mass: number };
  readonly notices: readonly Notice[];
}

/**
 * Checks a table one brings along and lists every fault at once.
 *
 * @throws UsageError naming all faults: fewer than 2 rows, ages not rising, M or S
 *   not above zero, a number missing.
 * @example makeReferenceTable({ title: "Own seasons", source: "2019-2024", unit: "g", animals: 24, rows })
 */
export function makeReferenceTable(table: ReferenceTable): ReferenceTable {
  const faults: string[] = [];
  if (table.rows.length < 2) faults.push(`${table.rows.length} rows where at least 2 are needed`);
  table.rows.forEach((row, i) => {
    const name = `row ${i + 1}`;
    if (![row.ageD, row.l, row.m, row.s].every(Number.isFinite)) {
      faults.push(`${name}: a number is missing`);
    }
    if (!(row.m > 0)) faults.push(`${name}: median ${row.m} is not above zero`);
    if (!(row.s > 0)) faults.push(`${name}: coefficient of variation ${row.s} is not above zero`);
    const before = table.rows[i - 1];
    if (before !== undefined && !(row.ageD > before.ageD)) {
      faults.push(`${name}: age ${row.ageD} does not follow ${before.ageD}`);
    }
  });
  if (faults.length > 0) {
    throw new UsageError({
      needed: "a reference table with rising ages and positive M and S",
      came: faults.join("; "),
      where: `reference table "${table.title}"`,
      todo: "Correct the rows named.",
    });
  }
  return table;
}

/**
 * L, M and S at an age, each interpolated linearly between the two rows around
 * it; null outside the table (never extrapolated).
 *
 * @example lmsAtAge(table, 30.5)
 */
export function lmsAtAge(table: ReferenceTable, ageD: number): Lms | null {
  const { rows } = table;
  const first = rows[0];
  const last = rows.at(-1);
  if (!first || !last || !(ageD >= first.ageD && ageD <= last.ageD)) return null;
  let low = 0;
  let high = rows.length - 1;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (rows[middle]!.ageD <= ageD) low = middle;
    else high = middle;
  }
  const a = rows[low]!;
  const b = rows[high]!;
  const w = (ageD - a.ageD) / (b.ageD - a.ageD);
  const between = (x: number, y: number) => x + w * (y - x);
  return { l: between(a.l, b.l), m: between(a.m, b.m), s: between(a.s, b.s) };
}

/**
 * z of a mass at an age against a reference table: restricted beyond 3 SD,
 * interpolated between ages, never extrapolated. Outside the table z is null
 * with a notice, and the point is kept so that it is still drawn.
 *
 * @example referenceZ(table, 365, 9.0).z // 0.0488
 */
export function referenceZ(table: ReferenceTable, ageD: number, mass: number): ReferenceZ {
  const point = { ageD, mass };
  const notices: Notice[] = [];
  if (table.animals !== null && table.animals < 50) {
    notices.push(
      notice("reference-few-animals", "caution", { n: table.animals, title: table.title }),
    );
  }
  const lms = lmsAtAge(table, ageD);
  if (lms === null) {
    notices.push(
      notice("reference-outside", "caution", {
        age: ageD,
        from: table.rows[0]?.ageD ?? null,
        to: table.rows.at(-1)?.ageD ?? null,
        title: table.title,
      }),
    );
    return { z: null, unrestricted: null, lms: null, point, notices };
  }
  if (!(mass > 0)) {
    notices.push(notice("reference-mass-not-positive", "problem", { mass }));
    return { z: null, unrestricted: null, lms, point, notices };
  }
  const z = restrictedLmsZ(mass, lms);
  if (z !== null && (z < -6 || z > 5)) {
    notices.push(notice("reference-implausible", "caution", { z, mass, age: ageD }));
  }
  return { z, unrestricted: lmsZ(mass, lms), lms, point, notices };
}

/**
 * The centile curves of a table at given z, by age: `null` where a centile does
 * not exist.
 *
 * @example referenceCurves(table, [-2, 0, 2])[1].points[0] // { ageD: 0, mass: 3.3464 }
 */
export function referenceCurves(
  table: ReferenceTable,
  zs: readonly number[],
): readonly {
  readonly z: number;
  readonly points: readonly { readonly ageD: number; readonly mass: number | null }[];
}[] {
  return zs.map((z) => ({
    z,
    points: table.rows.map((row) => ({ ageD: row.ageD, mass: lmsCentile(z, row) })),
  }));
}
