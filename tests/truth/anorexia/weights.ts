/**
 * Weights of young women before and after treatment, lb, by therapy. Hand DJ,
 * Daly F, McConway K, Lunn D, Ostrowski E (1993) A Handbook of Small Data Sets,
 * set 285 (in R as MASS::anorexia). Pairs "before after".
 */
const text = {
  CBT: `80.5 82.2 84.9 85.6 81.5 81.4 82.6 81.9 79.9 76.4 88.7 103.6 94.9 98.4 76.3 93.4 81 73.4 80.5 82.1
    85 96.7 89.2 95.3 81.3 82.4 76.5 72.5 70 90.9 80.4 71.3 83.3 85.4 83 81.6 87.7 89.1 84.2 83.9 86.4 82.7
    76.5 75.7 80.2 82.6 87.8 100.4 83.3 85.2 79.7 83.6 84.5 84.6 80.8 96.2 87.4 86.7`,
  Cont: `80.7 80.2 89.4 80.1 91.8 86.4 74 86.3 78.1 76.1 88.3 78.1 87.3 75.1 75.1 86.7 80.6 73.5 78.4 84.6
    77.6 77.4 88.7 79.5 81.3 89.6 78.1 81.4 70.5 81.8 77.3 77.3 85.2 84.2 86 75.4 84.1 79.5 79.7 73 85.5 88.3
    84.4 84.7 79.6 81.4 77.5 81.2 72.3 88.2 89 78.8`,
  FT: `83.8 95.2 83.3 94.3 86 91.5 82.5 91.9 86.7 100.3 79.6 76.7 76.9 76.8 94.2 101.6 73.4 94.9 80.5 75.2
    81.6 77.8 82.1 95.5 77.6 90.7 83.5 92.5 89.9 93.8 86 91.7 87.3 98`,
};

export interface BeforeAfter {
  readonly therapy: string;
  readonly before: number;
  readonly after: number;
}

export const anorexia: readonly BeforeAfter[] = Object.entries(text).flatMap(([therapy, t]) => {
  const xs = t.trim().split(/\s+/).map(Number);
  return Array.from({ length: xs.length / 2 }, (_, i) => ({
    therapy,
    before: xs[2 * i]!,
    after: xs[2 * i + 1]!,
  }));
});
