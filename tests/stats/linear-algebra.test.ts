import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  choleskyFactor,
  invertFromCholesky,
  logDeterminantFromCholesky,
  solveCholesky,
} from "../../src/stats/linear-algebra/cholesky.js";
import {
  applyQ,
  applyQTransposed,
  householderQr,
  inverseCrossProduct,
  solveQr,
} from "../../src/stats/linear-algebra/householder-qr.js";
import {
  crossProduct,
  identityMatrix,
  makeMatrix,
  matrixFromRows,
  matrixRows,
  matrixTimesVector,
  multiplyMatrices,
  transposeMatrix,
} from "../../src/stats/linear-algebra/matrix.js";
import { symmetricEigen } from "../../src/stats/linear-algebra/symmetric-eigen.js";

const entry = fc.double({ min: -10, max: 10, noNaN: true }).map((x) => Math.round(x * 1e4) / 1e4);
const tall = fc
  .tuple(fc.integer({ min: 1, max: 5 }), fc.integer({ min: 0, max: 6 }))
  .chain(([p, more]) =>
    fc
      .array(entry, { minLength: p * (p + more), maxLength: p * (p + more) })
      .map((data) => makeMatrix(p + more, p, data)),
  );

function expectClose(a: ArrayLike<number>, b: ArrayLike<number>, tolerance: number): void {
  expect(a.length).toBe(b.length);
  for (let i = 0; i < a.length; i++) expect(Math.abs(a[i]! - b[i]!)).toBeLessThan(tolerance);
}

describe("matrices", () => {
  it("multiplies, transposes and crosses", () => {
    const a = matrixFromRows([
      [1, 2],
      [3, 4],
      [5, 6],
    ]);
    expect(matrixRows(crossProduct(a))).toEqual(
      matrixRows(multiplyMatrices(transposeMatrix(a), a)),
    );
    expect(matrixRows(crossProduct(a))).toEqual([
      [35, 44],
      [44, 56],
    ]);
    expect(Array.from(matrixTimesVector(a, [1, -1]))).toEqual([-1, -1, -1]);
  });

  it("says which shapes do not fit", () => {
    expect(() => multiplyMatrices(identityMatrix(2), identityMatrix(3))).toThrow(/2 rows.*3 x 3/);
    expect(() => makeMatrix(2, 2, [1])).toThrow(/4 numbers/);
  });
});

describe("Cholesky factor", () => {
  it("solves, inverts and gives the determinant of any a'a + I", () => {
    fc.assert(
      fc.property(tall, (x) => {
        const a = crossProduct(x);
        for (let i = 0; i < a.rows; i++) a.data[i * a.rows + i]! += 1;
        const l = choleskyFactor(a)!;
        expect(l).not.toBeNull();
        const truth = Float64Array.from({ length: a.rows }, (_, i) => i - 1.5);
        expectClose(solveCholesky(l, matrixTimesVector(a, truth)), truth, 1e-8);
        expectClose(
          multiplyMatrices(a, invertFromCholesky(l)).data,
          identityMatrix(a.rows).data,
          1e-8,
        );
        const eigen = symmetricEigen(a);
        expect(eigen.converged).toBe(true);
        const logs = eigen.values.reduce((s, v) => s + Math.log(v), 0);
        expect(Math.abs(logs - logDeterminantFromCholesky(l))).toBeLessThan(1e-8);
      }),
    );
  });

  it("refuses a matrix that is not positive definite or holds NaN", () => {
    expect(
      choleskyFactor(
        matrixFromRows([
          [1, 2],
          [2, 1],
        ]),
      ),
    ).toBeNull();
    expect(choleskyFactor(matrixFromRows([[Number.NaN]]))).toBeNull();
  });
});

describe("Householder QR", () => {
  it.each(["limited", "full"] as const)("keeps lengths and solves (%s pivoting)", (pivoting) => {
    fc.assert(
      fc.property(tall, (a) => {
        const qr = householderQr(a, { pivoting });
        const y = Float64Array.from({ length: a.rows }, (_, i) => Math.cos(i + 1));
        expectClose(applyQ(qr, applyQTransposed(qr, y)), y, 1e-12);
        // The residual is at right angles to every column.
        const b = solveQr(qr, y).map((v) => v ?? 0);
        const residual = matrixTimesVector(a, b).map((f, i) => y[i]! - f);
        const scale = Math.max(1, ...b.map(Math.abs));
        const angles = matrixTimesVector(transposeMatrix(a), residual);
        expectClose(angles, new Float64Array(a.cols), 1e-9 * scale);
      }),
    );
  });

  it("puts dependent columns last and leaves their coefficient out", () => {
    const a = matrixFromRows([
      [1, 2, 1],
      [1, 2, 2],
      [1, 2, 4],
      [1, 2, 3],
    ]);
    const qr = householderQr(a);
    expect(qr.rank).toBe(2);
    expect(qr.pivot).toEqual([0, 2, 1]);
    const b = solveQr(qr, [3, 5, 9, 7]);
    expect(b[1]).toBeNull();
    expect(b[0]).toBeCloseTo(1, 12);
    expect(b[2]).toBeCloseTo(2, 12);
  });

  it("inverts the cross product in the given order under full pivoting", () => {
    const a = matrixFromRows([
      [1, 10],
      [1, 20],
      [1, 40],
    ]);
    const inverse = inverseCrossProduct(householderQr(a, { pivoting: "full" }));
    expectClose(multiplyMatrices(crossProduct(a), inverse).data, identityMatrix(2).data, 1e-12);
  });
});

describe("symmetric eigenvalues", () => {
  it("keeps tiny eigenvalues of a graded matrix", () => {
    // Hilbert matrix of order 4: smallest eigenvalue 9.67023040225868e-5, largest
    // 1.50021428005924 (from memory: standard textbook figures, checked below by trace).
    const hilbert = matrixFromRows(
      [0, 1, 2, 3].map((i) => [0, 1, 2, 3].map((j) => 1 / (i + j + 1))),
    );
    const { values, vectors } = symmetricEigen(hilbert);
    expect(values[0]).toBeCloseTo(1.50021428005924, 12);
    expect(values[3]! / 9.67023040225868e-5).toBeCloseTo(1, 9);
    expect(values.reduce((s, v) => s + v, 0)).toBeCloseTo(1 + 1 / 3 + 1 / 5 + 1 / 7, 13);
    expectClose(crossProduct(vectors).data, identityMatrix(4).data, 1e-13);
  });
});
