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

/** The rows, in working order, that share a group of the outermost level; such sets are independent. */
export function independentBlocks(
  fit: LinearMixedFit,
  byLevel: readonly Int32Array[],
): readonly Int32Array[] {
  const { engine } = fit;
  const rows = Int32Array.from({ length: engine.n }, (_, i) => i);
  if (engine.levels.length === 0) return [rows];
  const groups = byLevel[engine.levels.length - 1]!;
  // An outer group's rows need not lie together: groups stand in the order they first appear.
  const blocks = new Map<number, number[]>();
  for (const i of rows) {
    const own = blocks.get(groups[i]!);
    if (own === undefined) blocks.set(groups[i]!, [i]);
    else own.push(i);
  }
  return [...blocks.values()].map((own) => Int32Array.from(own));
}
