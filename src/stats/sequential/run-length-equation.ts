import { householderQr, solveQr } from "../linear-algebra/householder-qr.js";
import { makeMatrix } from "../linear-algebra/matrix.js";
import { gaussLegendre } from "../numeric/gauss-legendre.js";
import type { IncrementLaw } from "./increment-law.js";

/**
 * A chart whose state s in [low, high] moves to `slope` s + `gain` x + `drift` with
 * a new observation x and signals when it leaves the interval; below `low` it is
 * held at `low` where `reflects` (a cumulative sum), or signals (a moving average).
 */
export interface ChartStep {
  readonly low: number;
  readonly high: number;
  readonly slope: number;
  readonly gain: number;
  readonly drift: number;
  readonly reflects: boolean;
}

/**
 * Average run length from state `start`, by the integral equation L(s) = 1 +
 * E[L(next state)]. A smooth law uses one Gauss-Legendre rule (Nystrom's method);
 * a law with breaks or point masses uses panels of polynomials and splits every
 * integral where the kernel is not smooth. Run lengths beyond
 * 1e13 are below what float64 can tell apart and come back as `Infinity`.
 */
export function averageRunLength(chart: ChartStep, law: IncrementLaw, start: number): number {
  const width = (chart.high - chart.low) / chart.gain;
  const plain = (law.breaks?.length ?? 0) === 0 && (law.atoms?.length ?? 0) === 0;
  const panels = plain ? 1 : Math.max(12, Math.min(40, Math.ceil(4 * width)));
  const perPanel = plain ? Math.max(48, Math.min(400, Math.ceil(7 * width) + 40)) : 8;
  const grid = makeGrid(chart.low, chart.high, panels, perPanel);
  // The unknowns: L at the nodes and, where the state is held, at the lower end.
  const size = grid.nodes.length + (chart.reflects ? 1 : 0);
  const matrix = makeMatrix(size, size);
  for (let i = 0; i < size; i++) {
    const s = i < grid.nodes.length ? grid.nodes[i]! : chart.low;
    const row = rowOf(chart, law, grid, s, plain);
    for (let j = 0; j < size; j++) matrix.data[i * size + j] = (i === j ? 1 : 0) - row[j]!;
  }
  const solved = solveQr(householderQr(matrix, { tolerance: 0 }), new Float64Array(size).fill(1));
  const row = rowOf(chart, law, grid, start, plain);
  const length = solved.reduce<number>((sum, v, j) => sum + (v ?? Number.NaN) * row[j]!, 1);
  return length >= 1 && length < 1e13 ? length : Number.POSITIVE_INFINITY;
}

interface Grid {
  readonly edges: Float64Array;
  readonly nodes: Float64Array;
  readonly weights: Float64Array;
  readonly perPanel: number;
}

function makeGrid(low: number, high: number, panels: number, perPanel: number): Grid {
  const edges = Float64Array.from(
    { length: panels + 1 },
    (_, i) => low + ((high - low) * i) / panels,
  );
  const nodes = new Float64Array(panels * perPanel);
  const weights = new Float64Array(panels * perPanel);
  for (let q = 0; q < panels; q++) {
    const rule = gaussLegendre(perPanel, edges[q]!, edges[q + 1]!);
    nodes.set(rule.nodes, q * perPanel);
    weights.set(rule.weights, q * perPanel);
  }
  return { edges, nodes, weights, perPanel };
}

/** The weights with which L at the unknowns enters E[L(next state from s)]. */
function rowOf(
  chart: ChartStep,
  law: IncrementLaw,
  grid: Grid,
  s: number,
  plain: boolean,
): Float64Array {
  const count = grid.nodes.length;
  const row = new Float64Array(count + (chart.reflects ? 1 : 0));
  /** The observation that leads from s to u. */
  const needed = (u: number) => (u - chart.slope * s - chart.drift) / chart.gain;
  if (chart.reflects) row[count] = law.cumulative(needed(chart.low));
  if (plain) {
    for (let j = 0; j < count; j++) {
      row[j] = (grid.weights[j]! * law.density(needed(grid.nodes[j]!))) / chart.gain;
    }
    return row;
  }
  const arrive = (x: number) => chart.slope * s + chart.gain * x + chart.drift;
  const cuts = (law.breaks ?? []).map(arrive);
  for (let q = 0; q + 1 < grid.edges.length; q++) {
    const from = grid.edges[q]!;
    const to = grid.edges[q + 1]!;
    const points = [from, ...cuts.filter((c) => c > from && c < to).sort((a, b) => a - b), to];
    for (let k = 0; k + 1 < points.length; k++) {
      const rule = gaussLegendre(grid.perPanel + 4, points[k]!, points[k + 1]!);
      rule.nodes.forEach((u, m) => {
        const w = (rule.weights[m]! * law.density(needed(u))) / chart.gain;
        if (w !== 0) spread(grid, q, u, w, row);
      });
    }
  }
  for (const { at, mass } of law.atoms ?? []) {
    const u = arrive(at);
    // At or below the lower end the point mass is already in the held state.
    if (u > chart.high || u < chart.low || (chart.reflects && u <= chart.low)) continue;
    // L jumps where a point mass just fails to signal, and belongs to the left there.
    const position = ((u - chart.low) / (chart.high - chart.low)) * (grid.edges.length - 1);
    const q = Math.max(0, Math.ceil(position - 1e-12) - 1);
    spread(grid, q, u, mass, row);
  }
  return row;
}

/** Adds weight w at u to the nodes of panel q by polynomial interpolation. */
function spread(grid: Grid, q: number, u: number, w: number, row: Float64Array): void {
  const first = q * grid.perPanel;
  for (let j = 0; j < grid.perPanel; j++) {
    let basis = 1;
    for (let k = 0; k < grid.perPanel; k++) {
      if (k === j) continue;
      basis *= (u - grid.nodes[first + k]!) / (grid.nodes[first + j]! - grid.nodes[first + k]!);
    }
    row[first + j]! += w * basis;
  }
}
