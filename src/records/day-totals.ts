/** Number, sum, least and greatest of the amounts of one animal, kind and feeding day. */
export interface DayTotal {
  readonly animal: number;
  readonly kind: number;
  /** Days since 1970-01-01. */
  readonly day: number;
  readonly n: number;
  readonly sum: number;
}

/** Adds amounts up by animal, kind and day; memory grows with the groups, not the rows. */
export interface DayTotals {
  add(animal: number, kind: number, day: number, amount: number): void;
  /** In order of animal, kind and day. */
  groups(): Generator<DayTotal>;
  count(): number;
}

interface Run {
  base: number;
  n: Int32Array;
  sum: Float64Array;
}

export function dayTotals(): DayTotals {
  const runs: (Run | undefined)[][] = [];

  const runFor = (animal: number, kind: number, day: number): Run => {
    while (runs.length <= animal) runs.push([]);
    const kinds = runs[animal]!;
    let run = kinds[kind];
    if (run === undefined) {
      run = { base: day - 16, n: new Int32Array(64), sum: new Float64Array(64) };
      kinds[kind] = run;
    }
    const at = day - run.base;
    if (at >= 0 && at < run.n.length) return run;
    // Grow to whichever side the day lies on, by half as much again.
    const from = Math.min(run.base, at < 0 ? day - (run.n.length >> 1) : run.base);
    const to = Math.max(run.base + run.n.length, at < 0 ? 0 : day + 1 + (run.n.length >> 1));
    const n = new Int32Array(to - from);
    const sum = new Float64Array(to - from);
    n.set(run.n, run.base - from);
    sum.set(run.sum, run.base - from);
    run.base = from;
    run.n = n;
    run.sum = sum;
    return run;
  };

  return {
    add(animal, kind, day, amount) {
      let run = runs[animal]?.[kind];
      let at = run === undefined ? -1 : day - run.base;
      if (run === undefined || at < 0 || at >= run.n.length) {
        run = runFor(animal, kind, day);
        at = day - run.base;
      }
      run.n[at]!++;
      run.sum[at]! += amount;
    },
    *groups() {
      for (let animal = 0; animal < runs.length; animal++) {
        const kinds = runs[animal]!;
        for (let kind = 0; kind < kinds.length; kind++) {
          const run = kinds[kind];
          if (run === undefined) continue;
          for (let i = 0; i < run.n.length; i++)
            if (run.n[i]! > 0)
              yield { animal, kind, day: run.base + i, n: run.n[i]!, sum: run.sum[i]! };
        }
      }
    },
    count() {
      let total = 0;
      for (const kinds of runs)
        for (const run of kinds) if (run !== undefined) for (const n of run.n) if (n > 0) total++;
      return total;
    },
  };
}
