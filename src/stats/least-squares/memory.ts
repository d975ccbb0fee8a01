/** One evaluation of a model: values, gradient (row-major), residuals, parameters. */
export interface Slot {
  readonly values: Float64Array;
  readonly gradient: Float64Array;
  readonly residual: Float64Array;
  readonly theta: Float64Array;
}

/** All scratch memory of one fit. */
export interface Memory {
  readonly n: number;
  readonly p: number;
  readonly m: number;
  readonly here: Slot;
  readonly there: Slot;
  readonly a: Float64Array;
  readonly b: Float64Array;
  readonly linearA: Float64Array;
  readonly linearB: Float64Array;
  readonly step: Float64Array;
  readonly scale: Float64Array;
  readonly free: Uint8Array;
  readonly work: Float64Array;
  readonly side: Float64Array;
  readonly solution: Float64Array;
  readonly inverse: Float64Array;
}

// One spare block of scratch memory: series of equal length follow one another.
let spare: Memory | null = null;

/** Memory for at least `n` rows, `p` parameters, `m` of them free. */
export function takeMemory(n: number, p: number, m: number): Memory {
  const ready = spare;
  spare = null;
  if (ready !== null && ready.n >= n && ready.p === p && ready.m === m) return ready;
  // Some room to spare, so that series of other lengths find it large enough.
  const rows = 64 * Math.ceil(n / 64);
  const slot = (): Slot => ({
    values: new Float64Array(rows),
    gradient: new Float64Array(rows * p),
    residual: new Float64Array(rows),
    theta: new Float64Array(p),
  });
  return {
    n: rows,
    p,
    m,
    here: slot(),
    there: slot(),
    a: new Float64Array(rows * m),
    b: new Float64Array(rows),
    linearA: new Float64Array(rows * m),
    linearB: new Float64Array(rows),
    step: new Float64Array(m),
    scale: new Float64Array(m),
    free: new Uint8Array(m),
    work: new Float64Array(2 * m * m),
    side: new Float64Array(2 * m),
    solution: new Float64Array(m),
    inverse: new Float64Array(m * m),
  };
}

/** Hands the memory back for the next fit of the same shape. */
export function giveBack(memory: Memory): void {
  spare = memory;
}
