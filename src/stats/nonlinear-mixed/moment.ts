/** A normal prior for one individual's parameters at one value of the variances, with its working memory. */
export interface Moment {
  /** Lower factor of between + covariance of the population mean. */
  readonly l: Float64Array;
  readonly mean: Float64Array;
  readonly sigma: number;
  readonly t: Float64Array;
  readonly eta: Float64Array;
  readonly covariance: Float64Array;
}

/** Factor of the spread between individuals and of what is not known of their mean. */
export function makeMoment(
  between: readonly (readonly number[])[],
  meanCovariance: readonly (readonly number[])[],
  sigma: number,
  k: number,
): Moment {
  const l = new Float64Array(k * k);
  for (let j = 0; j < k; j++) {
    const whole = (a: number, b: number) => between[a]![b]! + meanCovariance[a]![b]!;
    let pivot = whole(j, j);
    for (let c = 0; c < j; c++) pivot -= l[j * k + c]! ** 2;
    if (!(pivot > 1e-14 * Math.abs(whole(j, j)))) continue;
    const root = Math.sqrt(pivot);
    l[j * k + j] = root;
    for (let i = j + 1; i < k; i++) {
      let s = whole(i, j);
      for (let c = 0; c < j; c++) s -= l[i * k + c]! * l[j * k + c]!;
      l[i * k + j] = s / root;
    }
  }
  return {
    l,
    mean: Float64Array.from(meanCovariance.flat()),
    sigma,
    t: new Float64Array(k),
    eta: new Float64Array(k),
    covariance: new Float64Array(k * k),
  };
}
