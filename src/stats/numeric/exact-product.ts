/**
 * Sums of products with twice the working precision: the rounding error of every
 * product and addition is kept. Source: T. Ogita, S. M. Rump and S. Oishi, Accurate
 * sum and dot product (2005).
 *
 * @example new ExactSum().addProduct(1e8 + 1, 1e8 - 1).add(-1e16).value // -1
 */
export class ExactSum {
  private sum = 0;
  private lost = 0;

  add(v: number): this {
    const t = this.sum + v;
    const z = t - this.sum;
    this.lost += this.sum - (t - z) + (v - z);
    this.sum = t;
    return this;
  }

  addProduct(a: number, b: number): this {
    const p = a * b;
    // Veltkamp split: each factor as two halves of 26 bits.
    const ca = 134217729 * a;
    const ah = ca - (ca - a);
    const al = a - ah;
    const cb = 134217729 * b;
    const bh = cb - (cb - b);
    const bl = b - bh;
    const error = al * bl - (p - ah * bh - al * bh - ah * bl);
    this.add(p);
    if (Number.isFinite(error)) this.lost += error;
    return this;
  }

  get value(): number {
    return this.sum + this.lost;
  }
}
