import type { LeastSquaresModel } from "../../../src/stats/least-squares/fit-least-squares.js";

/**
 * The 23 model formulas of the NIST StRD nonlinear collection (27 data sets),
 * each with its analytic gradient written out. Source: NIST Statistical
 * Reference Datasets, nonlinear regression, https://www.itl.nist.gov/div898/strd/.
 * `row` writes the derivatives into `g` and returns the value.
 */
export interface StrdModel {
  readonly linear: readonly number[];
  readonly row: (b: ArrayLike<number>, x: readonly number[], g: number[]) => number;
}

const { exp, cos, sin, PI, atan, log } = Math;

const exponentialRise: StrdModel = {
  linear: [0],
  row: (b, [x], g) => {
    const e = exp(-b[1]! * x!);
    g[0] = 1 - e;
    g[1] = b[0]! * x! * e;
    return b[0]! * g[0];
  },
};

const chwirut: StrdModel = {
  linear: [],
  row: (b, [x], g) => {
    const bottom = b[1]! + b[2]! * x!;
    const f = exp(-b[0]! * x!) / bottom;
    g[0] = -x! * f;
    g[1] = -f / bottom;
    g[2] = (-x! * f) / bottom;
    return f;
  },
};

const gauss: StrdModel = {
  linear: [0, 2, 5],
  row: (b, [x], g) => {
    const e = exp(-b[1]! * x!);
    const u = (x! - b[3]!) / b[4]!;
    const v = (x! - b[6]!) / b[7]!;
    const first = exp(-u * u);
    const second = exp(-v * v);
    g[0] = e;
    g[1] = -b[0]! * x! * e;
    g[2] = first;
    g[3] = (b[2]! * first * 2 * u) / b[4]!;
    g[4] = (b[2]! * first * 2 * u * u) / b[4]!;
    g[5] = second;
    g[6] = (b[5]! * second * 2 * v) / b[7]!;
    g[7] = (b[5]! * second * 2 * v * v) / b[7]!;
    return b[0]! * e + b[2]! * first + b[5]! * second;
  },
};

const lanczos: StrdModel = {
  linear: [0, 2, 4],
  row: (b, [x], g) => {
    let sum = 0;
    for (let k = 0; k < 6; k += 2) {
      const e = exp(-b[k + 1]! * x!);
      g[k] = e;
      g[k + 1] = -b[k]! * x! * e;
      sum += b[k]! * e;
    }
    return sum;
  },
};

/** (b1 + b2 x + ...) / (1 + b_(t+1) x + ...), with `top` numerator terms. */
const rational = (top: number, bottom: number): StrdModel => ({
  linear: Array.from({ length: top }, (_, j) => j),
  row: (b, [x], g) => {
    let above = 0;
    let below = 1;
    for (let j = 0; j < top; j++) above += b[j]! * x! ** j;
    for (let j = 0; j < bottom; j++) below += b[top + j]! * x! ** (j + 1);
    for (let j = 0; j < top; j++) g[j] = x! ** j / below;
    for (let j = 0; j < bottom; j++) g[top + j] = (-above * x! ** (j + 1)) / (below * below);
    return above / below;
  },
});

export const strdModels: Readonly<Record<string, StrdModel>> = {
  Bennett5: {
    linear: [0],
    row: (b, [x], g) => {
      const base = b[1]! + x!;
      if (!(base > 0)) return Number.NaN;
      const power = base ** (-1 / b[2]!);
      g[0] = power;
      g[1] = (-b[0]! * power) / (b[2]! * base);
      g[2] = (b[0]! * power * log(base)) / (b[2]! * b[2]!);
      return b[0]! * power;
    },
  },
  BoxBOD: exponentialRise,
  Chwirut1: chwirut,
  Chwirut2: chwirut,
  DanWood: {
    linear: [0],
    row: (b, [x], g) => {
      g[0] = x! ** b[1]!;
      g[1] = b[0]! * g[0] * log(x!);
      return b[0]! * g[0];
    },
  },
  ENSO: {
    linear: [0, 1, 2, 4, 5, 7, 8],
    row: (b, [x], g) => {
      const yearly = (2 * PI * x!) / 12;
      const one = (2 * PI * x!) / b[3]!;
      const two = (2 * PI * x!) / b[6]!;
      g[0] = 1;
      g[1] = cos(yearly);
      g[2] = sin(yearly);
      g[4] = cos(one);
      g[5] = sin(one);
      g[3] = (b[4]! * sin(one) - b[5]! * cos(one)) * (one / b[3]!);
      g[7] = cos(two);
      g[8] = sin(two);
      g[6] = (b[7]! * sin(two) - b[8]! * cos(two)) * (two / b[6]!);
      return (
        b[0]! +
        b[1]! * g[1] +
        b[2]! * g[2] +
        b[4]! * g[4] +
        b[5]! * g[5] +
        b[7]! * g[7] +
        b[8]! * g[8]
      );
    },
  },
  Eckerle4: {
    linear: [0],
    row: (b, [x], g) => {
      const z = (x! - b[2]!) / b[1]!;
      const e = exp(-0.5 * z * z);
      const f = (b[0]! / b[1]!) * e;
      g[0] = e / b[1]!;
      g[1] = (f * (z * z - 1)) / b[1]!;
      g[2] = (f * z) / b[1]!;
      return f;
    },
  },
  Gauss1: gauss,
  Gauss2: gauss,
  Gauss3: gauss,
  Hahn1: rational(4, 3),
  Kirby2: rational(3, 2),
  Lanczos1: lanczos,
  Lanczos2: lanczos,
  Lanczos3: lanczos,
  MGH09: {
    linear: [0],
    row: (b, [x], g) => {
      const top = x! * x! + x! * b[1]!;
      const bottom = x! * x! + x! * b[2]! + b[3]!;
      g[0] = top / bottom;
      g[1] = (b[0]! * x!) / bottom;
      g[2] = (-b[0]! * top * x!) / (bottom * bottom);
      g[3] = (-b[0]! * top) / (bottom * bottom);
      return b[0]! * g[0];
    },
  },
  MGH10: {
    linear: [0],
    row: (b, [x], g) => {
      const shifted = x! + b[2]!;
      const e = exp(b[1]! / shifted);
      g[0] = e;
      g[1] = (b[0]! * e) / shifted;
      g[2] = (-b[0]! * e * b[1]!) / (shifted * shifted);
      return b[0]! * e;
    },
  },
  MGH17: {
    linear: [0, 1, 2],
    row: (b, [x], g) => {
      g[0] = 1;
      g[1] = exp(-x! * b[3]!);
      g[2] = exp(-x! * b[4]!);
      g[3] = -b[1]! * x! * g[1];
      g[4] = -b[2]! * x! * g[2];
      return b[0]! + b[1]! * g[1] + b[2]! * g[2];
    },
  },
  Misra1a: exponentialRise,
  Misra1b: {
    linear: [0],
    row: (b, [x], g) => {
      const base = 1 + (b[1]! * x!) / 2;
      g[0] = 1 - base ** -2;
      g[1] = b[0]! * x! * base ** -3;
      return b[0]! * g[0];
    },
  },
  Misra1c: {
    linear: [0],
    row: (b, [x], g) => {
      const base = 1 + 2 * b[1]! * x!;
      if (!(base > 0)) return Number.NaN;
      g[0] = 1 - base ** -0.5;
      g[1] = b[0]! * x! * base ** -1.5;
      return b[0]! * g[0];
    },
  },
  Misra1d: {
    linear: [0],
    row: (b, [x], g) => {
      const base = 1 + b[1]! * x!;
      g[0] = (b[1]! * x!) / base;
      g[1] = (b[0]! * x!) / (base * base);
      return b[0]! * g[0];
    },
  },
  Nelson: {
    linear: [0, 1],
    row: (b, [x1, x2], g) => {
      const e = exp(-b[2]! * x2!);
      g[0] = 1;
      g[1] = -x1! * e;
      g[2] = b[1]! * x1! * x2! * e;
      return b[0]! - b[1]! * x1! * e;
    },
  },
  Rat42: {
    linear: [0],
    row: (b, [x], g) => {
      const e = exp(b[1]! - b[2]! * x!);
      const bottom = 1 + e;
      g[0] = 1 / bottom;
      g[1] = (-b[0]! * e) / (bottom * bottom);
      g[2] = (b[0]! * e * x!) / (bottom * bottom);
      return b[0]! * g[0];
    },
  },
  Rat43: {
    linear: [0],
    row: (b, [x], g) => {
      const e = exp(b[1]! - b[2]! * x!);
      const bottom = 1 + e;
      const power = bottom ** (-1 / b[3]!);
      g[0] = power;
      g[1] = (-b[0]! * power * e) / (b[3]! * bottom);
      g[2] = (b[0]! * power * e * x!) / (b[3]! * bottom);
      g[3] = (b[0]! * power * log(bottom)) / (b[3]! * b[3]!);
      return b[0]! * power;
    },
  },
  Roszman1: {
    linear: [0, 1],
    row: (b, [x], g) => {
      const below = x! - b[3]!;
      const ratio = b[2]! / below;
      const slope = -1 / (PI * (1 + ratio * ratio));
      g[0] = 1;
      g[1] = -x!;
      g[2] = slope / below;
      g[3] = (slope * ratio) / below;
      return b[0]! - b[1]! * x! - atan(ratio) / PI;
    },
  },
  Thurber: rational(4, 3),
};

/** Makes an engine model of one set; `project` uses the linear parameters. */
export function strdModel(
  name: string,
  x: readonly (readonly number[])[],
  project: boolean,
): LeastSquaresModel {
  const model = strdModels[name]!;
  const g: number[] = [];
  model.row(new Array<number>(9).fill(1), x[0]!, g);
  const p = g.length;
  return {
    parameters: p,
    linear: project ? model.linear : [],
    evaluate: (theta, values, gradient) => {
      for (let i = 0; i < x.length; i++) {
        const value = model.row(theta, x[i]!, g);
        if (!Number.isFinite(value)) return false;
        values[i] = value;
        for (let j = 0; j < theta.length; j++) gradient[i * theta.length + j] = g[j]!;
      }
      return true;
    },
  };
}
