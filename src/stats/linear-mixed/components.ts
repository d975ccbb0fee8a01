import { type Matrix, makeMatrix } from "../linear-algebra/matrix.js";
import { productWithTranspose } from "./covariance.js";
import type { LinearMixedFit } from "./fit.js";

/** One variance or covariance of the random effects. */
export interface Component {
  readonly level: number;
  readonly i: number;
  readonly j: number;
  /** Value over s2. */
  readonly relative: number;
  readonly offset: number;
  readonly shape: string;
}

export function listComponents(fit: LinearMixedFit): Component[] {
  const out: Component[] = [];
  let offset = 0;
  fit.engine.levels.forEach((l, level) => {
    const product = productWithTranspose(fit.engine.factors[level]!, l.q);
    if (l.shape === "identity") {
      out.push({ level, i: -1, j: -1, relative: product[0]!, offset, shape: l.shape });
    } else {
      for (let i = 0; i < l.q; i++)
        for (let j = l.shape === "diagonal" ? i : 0; j <= i; j++)
          out.push({ level, i, j, relative: product[i * l.q + j]!, offset, shape: l.shape });
    }
    offset += l.q;
  });
  return out;
}

/** d V / d component for rows from..to: Z (E_ij + E_ji) Z' within each group of the level. */
export function componentMatrix(
  fit: LinearMixedFit,
  c: Component,
  groupOf: Int32Array,
  from: number,
  to: number,
): Matrix {
  const { engine } = fit;
  const n = to - from;
  const out = makeMatrix(n, n);
  const q = engine.levels[c.level]!.q;
  const z = (row: number, k: number) => engine.rows[row * engine.width + c.offset + k]!;
  for (let a = 0; a < n; a++) {
    for (let b = 0; b < n; b++) {
      if (groupOf[from + a] !== groupOf[from + b]) continue;
      let v = 0;
      if (c.i < 0) for (let k = 0; k < q; k++) v += z(from + a, k) * z(from + b, k);
      else {
        v = z(from + a, c.i) * z(from + b, c.j);
        if (c.i !== c.j) v += z(from + a, c.j) * z(from + b, c.i);
      }
      out.data[a * n + b] = v;
    }
  }
  return out;
}

/** The group of each row in each level, innermost first. */
export function rowGroups(fit: LinearMixedFit): Int32Array[] {
  const { engine } = fit;
  const inner = new Int32Array(engine.n);
  for (let g = 0; g + 1 < engine.starts.length; g++) {
    inner.fill(g, engine.starts[g]!, engine.starts[g + 1]!);
  }
  const out = [inner];
  for (let k = 0; k + 1 < engine.levels.length; k++) {
    out.push(out[k]!.map((g) => engine.levels[k]!.parent[g]!));
  }
  return out;
}

/** Runs of rows that share a group of the outermost level. */
export function independentBlocks(
  fit: LinearMixedFit,
  byLevel: readonly Int32Array[],
): { from: number; to: number }[] {
  const { engine } = fit;
  if (engine.levels.length === 0) return [{ from: 0, to: engine.n }];
  const groups = byLevel[engine.levels.length - 1]!;
  const order = new Map<number, { from: number; to: number }>();
  for (let i = 0; i < engine.n; i++) {
    const own = order.get(groups[i]!);
    if (own === undefined) order.set(groups[i]!, { from: i, to: i + 1 });
    else own.to = i + 1;
  }
  return [...order.values()];
}
