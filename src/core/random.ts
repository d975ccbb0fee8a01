/**
 * Seeded random numbers: the same seed gives the same stream on every machine.
 *
 * Generator: sfc32 (Chris Doty-Humphrey's small fast counting generator, passes
 * PractRand), seeded through splitmix32 so that seeds 1, 2, 3 are unrelated.
 * Uniforms use 53 bits from two draws.
 */
export interface Random {
  /** Uniform in [0, 1), 53 random bits. */
  uniform(): number;
  /** Standard normal (polar method). */
  normal(): number;
  /** Exponential with mean 1. */
  exponential(): number;
  /** Whole number in 0 .. n-1, without modulo bias. */
  below(n: number): number;
  /** A new array with the items in random order (Fisher-Yates). */
  shuffled<T>(items: readonly T[]): T[];
  /** An independent stream named by `key`; does not advance this one. */
  split(key: number): Random;
}

/**
 * Makes a seeded generator.
 *
 * @example seededRandom(1).uniform() // the same number on every run and machine
 */
export function seededRandom(seed: number): Random {
  return makeRandom(seed >>> 0, Math.floor(seed / 4294967296) >>> 0);
}

function makeRandom(low: number, high: number): Random {
  let mix = low ^ Math.imul(high, 0x9e3779b1);
  const nextMix = () => {
    mix = (mix + 0x9e3779b9) | 0;
    let t = mix ^ (mix >>> 16);
    t = Math.imul(t, 0x21f0aaad);
    t ^= t >>> 15;
    t = Math.imul(t, 0x735a2d97);
    return (t ^ (t >>> 15)) >>> 0;
  };
  let a = nextMix();
  let b = nextMix();
  let c = nextMix();
  let counter = 1;
  const word = () => {
    const t = (((a + b) | 0) + counter) | 0;
    counter = (counter + 1) | 0;
    a = b ^ (b >>> 9);
    b = (c + (c << 3)) | 0;
    c = (c << 21) | (c >>> 11);
    c = (c + t) | 0;
    return t >>> 0;
  };
  for (let i = 0; i < 12; i++) word();

  const uniform = () => ((word() >>> 5) * 67108864 + (word() >>> 6)) / 9007199254740992;
  let spare: number | undefined;
  const normal = () => {
    if (spare !== undefined) {
      const kept = spare;
      spare = undefined;
      return kept;
    }
    for (;;) {
      const u = 2 * uniform() - 1;
      const v = 2 * uniform() - 1;
      const s = u * u + v * v;
      if (s > 0 && s < 1) {
        const f = Math.sqrt((-2 * Math.log(s)) / s);
        spare = v * f;
        return u * f;
      }
    }
  };
  const below = (n: number) => Math.floor(uniform() * n);
  return {
    uniform,
    normal,
    exponential: () => -Math.log(1 - uniform()),
    below,
    shuffled: (items) => {
      const out = items.slice();
      for (let i = out.length - 1; i > 0; i--) {
        const j = below(i + 1);
        const kept = out[i]!;
        out[i] = out[j]!;
        out[j] = kept;
      }
      return out;
    },
    split: (key) =>
      makeRandom((low ^ Math.imul(key + 1, 0x85ebca6b)) >>> 0, (high ^ (key * 0xc2b2ae35)) >>> 0),
  };
}
