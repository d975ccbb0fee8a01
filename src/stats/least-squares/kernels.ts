/**
 * The small dense kernels of the least-squares loop. They work on flat arrays
 * the caller owns and allocate nothing, because one curve is fitted in some
 * tens of microseconds. Matrices are column-major here: entry (i, j) of a
 * matrix with `rows` rows is `a[j * rows + i]`.
 */

/**
 * Householder triangularisation in place: `a` (rows x columns) becomes R in its
 * upper triangle (the rest is overwritten), `b` becomes Q'b.
 */
export function triangularise(
  a: Float64Array,
  rows: number,
  columns: number,
  b: Float64Array,
): void {
  const steps = Math.min(rows, columns);
  for (let k = 0; k < steps; k++) {
    const at = k * rows;
    const length = rows - k;
    const norm = Math.sqrt(dot(a, at + k, a, at + k, length));
    if (!(norm > 0)) continue;
    const head = a[at + k]!;
    const diagonal = head > 0 ? -norm : norm;
    const pivot = head - diagonal;
    a[at + k] = pivot;
    const half = 1 / (-diagonal * pivot);
    for (let j = k + 1; j < columns; j++) {
      const other = j * rows + k;
      subtract(a, other, half * dot(a, at + k, a, other, length), a, at + k, length);
    }
    subtract(b, k, half * dot(a, at + k, b, k, length), a, at + k, length);
    a[at + k] = diagonal;
  }
}

/** Inner product of two stretches; four running sums keep the adders busy. */
export function dot(
  x: Float64Array,
  fromX: number,
  y: Float64Array,
  fromY: number,
  length: number,
): number {
  let one = 0;
  let two = 0;
  let three = 0;
  let four = 0;
  const whole = length - (length & 3);
  let i = 0;
  for (; i < whole; i += 4) {
    one += x[fromX + i]! * y[fromY + i]!;
    two += x[fromX + i + 1]! * y[fromY + i + 1]!;
    three += x[fromX + i + 2]! * y[fromY + i + 2]!;
    four += x[fromX + i + 3]! * y[fromY + i + 3]!;
  }
  for (; i < length; i++) one += x[fromX + i]! * y[fromY + i]!;
  return one + two + (three + four);
}

/** x -= factor * y over a stretch. */
function subtract(
  x: Float64Array,
  fromX: number,
  factor: number,
  y: Float64Array,
  fromY: number,
  length: number,
): void {
  for (let i = 0; i < length; i++) x[fromX + i]! -= factor * y[fromY + i]!;
}

/**
 * Solves R x = b for the upper triangle held in `a`. A diagonal entry that is
 * zero to rounding gives x = 0 there, so a singular direction is not stepped in.
 * Returns the number of such entries.
 */
export function backSubstitute(
  a: Float64Array,
  rows: number,
  columns: number,
  b: Float64Array,
  x: Float64Array,
): number {
  let singular = 0;
  for (let j = columns - 1; j >= 0; j--) {
    let sum = b[j]!;
    for (let m = j + 1; m < columns; m++) sum -= a[m * rows + j]! * x[m]!;
    const diagonal = a[j * rows + j]!;
    let column = 0;
    for (let i = 0; i <= j; i++) column = Math.max(column, Math.abs(a[j * rows + i]!));
    if (Math.abs(diagonal) <= 1e-15 * column || diagonal === 0) {
      x[j] = 0;
      singular++;
    } else x[j] = sum / diagonal;
  }
  return singular;
}

/**
 * Solves the damped triangular problem  min ||q - R d||^2 + damping * ||D d||^2
 * for the chosen columns of R (p x p, leading dimension `ld`, starting at
 * `from`), by triangularising the stacked matrix; no normal equations. `scale`
 * holds D. Writes the step into `d` at the same positions and zero elsewhere.
 * Returns the fall in ||q - R d||^2 that the linear model promises.
 */
export function dampedStep(
  r: Float64Array,
  ld: number,
  from: number,
  size: number,
  q: Float64Array,
  isFree: Uint8Array,
  damping: number,
  scale: Float64Array,
  d: Float64Array,
  work: Float64Array,
  side: Float64Array,
  solution: Float64Array,
): number {
  let free = 0;
  for (let j = 0; j < size; j++) if (isFree[j] === 1) free++;
  for (let j = 0; j < size; j++) d[j] = 0;
  if (free === 0) return 0;
  const rows = damping > 0 ? size + free : size;
  const root = Math.sqrt(damping);
  let column = 0;
  for (let j = 0; j < size; j++) {
    if (isFree[j] !== 1) continue;
    const at = column * rows;
    for (let i = 0; i < rows; i++) work[at + i] = 0;
    for (let i = 0; i <= j; i++) work[at + i] = r[(from + j) * ld + from + i]!;
    if (damping > 0) work[at + size + column] = root * scale[j]!;
    column++;
  }
  let before = 0;
  for (let i = 0; i < size; i++) {
    side[i] = q[from + i]!;
    before += side[i]! * side[i]!;
  }
  for (let i = size; i < rows; i++) side[i] = 0;
  triangularise(work, rows, free, side);
  backSubstitute(work, rows, free, side, solution);
  column = 0;
  for (let j = 0; j < size; j++) if (isFree[j] === 1) d[j] = solution[column++]!;
  let after = 0;
  for (let i = 0; i < size; i++) {
    let left = q[from + i]!;
    for (let j = i; j < size; j++) left -= r[(from + j) * ld + from + i]! * d[j]!;
    after += left * left;
  }
  return before - after;
}

/**
 * (R'R)^-1 from the upper triangle in `a`, written row-major into `out`
 * (columns x columns). Returns false where R is singular to rounding.
 */
export function invertGram(
  a: Float64Array,
  rows: number,
  columns: number,
  out: Float64Array,
  work: Float64Array,
): boolean {
  // work holds R^-1, column-major
  for (let j = 0; j < columns; j++) {
    const diagonal = a[j * rows + j]!;
    let column = 0;
    for (let i = 0; i <= j; i++) column = Math.max(column, Math.abs(a[j * rows + i]!));
    if (!(Math.abs(diagonal) > 1e-15 * column)) return false;
    work[j * columns + j] = 1 / diagonal;
    for (let i = j - 1; i >= 0; i--) {
      let sum = 0;
      for (let m = i + 1; m <= j; m++) sum += a[m * rows + i]! * work[j * columns + m]!;
      work[j * columns + i] = -sum / a[i * rows + i]!;
    }
  }
  for (let i = 0; i < columns; i++) {
    for (let j = i; j < columns; j++) {
      let sum = 0;
      for (let m = j; m < columns; m++) sum += work[m * columns + i]! * work[m * columns + j]!;
      if (!Number.isFinite(sum)) return false;
      out[i * columns + j] = sum;
      out[j * columns + i] = sum;
    }
  }
  return true;
}

/** The fall of ||q - R d||^2 that a step d promises. */
export function promised(
  r: Float64Array,
  ld: number,
  from: number,
  size: number,
  q: Float64Array,
  d: Float64Array,
): number {
  let before = 0;
  let after = 0;
  for (let i = 0; i < size; i++) {
    const each = from + i < ld ? q[from + i]! : 0;
    let left = each;
    for (let j = i; j < size; j++) left -= (r[(from + j) * ld + from + i] ?? 0) * d[j]!;
    before += each * each;
    after += left * left;
  }
  return before - after;
}

/** The largest entry of a column of R. */
export function columnPeak(r: Float64Array, ld: number, column: number): number {
  let peak = 0;
  for (let i = 0; i <= column; i++) peak = Math.max(peak, Math.abs(r[column * ld + i]!));
  return peak;
}

/** The least share of a column's length that the columns before it do not explain. */
export function leastOwnPart(r: Float64Array, ld: number, columns: number): number {
  let least = 1;
  for (let j = 0; j < columns; j++) {
    const length = Math.sqrt(dot(r, j * ld, r, j * ld, j + 1));
    if (length > 0) least = Math.min(least, Math.abs(r[j * ld + j]!) / length);
  }
  return least;
}

/** Removes the correlation with the row before, last row first. */
export function whiten(
  residual: Float64Array,
  gradient: Float64Array,
  carry: ArrayLike<number>,
  n: number,
  p: number,
): void {
  for (let i = n - 1; i > 0; i--) {
    const rho = carry[i]!;
    const spread = 1 / Math.sqrt(1 - rho * rho);
    residual[i] = (residual[i]! - rho * residual[i - 1]!) * spread;
    for (let j = 0; j < p; j++) {
      gradient[i * p + j] = (gradient[i * p + j]! - rho * gradient[(i - 1) * p + j]!) * spread;
    }
  }
}
