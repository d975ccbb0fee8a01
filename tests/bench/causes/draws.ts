/** Seeded draws of this bench's own (mulberry32 with a polar normal): it shares none with what it tries. */
export interface Draws {
  uniform(low?: number, high?: number): number;
  normal(mean?: number, sd?: number): number;
  whole(low: number, high: number): number;
  chance(p: number): boolean;
}

export function drawsOf(seed: number): Draws {
  let state = (seed ^ 0x5bd1e995) >>> 0;
  const next = () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let z = state;
    z = Math.imul(z ^ (z >>> 15), z | 1);
    z ^= z + Math.imul(z ^ (z >>> 7), z | 61);
    return ((z ^ (z >>> 14)) >>> 0) / 4294967296;
  };
  const uniform = (low = 0, high = 1) => low + (high - low) * next();
  return {
    uniform,
    normal(mean = 0, sd = 1) {
      for (;;) {
        const x = uniform(-1, 1);
        const y = uniform(-1, 1);
        const r = x * x + y * y;
        if (r > 0 && r < 1) return mean + sd * x * Math.sqrt((-2 * Math.log(r)) / r);
      }
    },
    whole: (low, high) => low + Math.floor(next() * (high - low + 1)),
    chance: (p) => next() < p,
  };
}
