const powers = (x: number, top: number) => Array.from({ length: top + 1 }, (_, k) => x ** k);

const own: Readonly<Record<string, (x: readonly number[]) => number[]>> = {
  Filip: ([x]) => powers(x!, 10),
  Longley: (x) => [1, ...x],
  NoInt1: ([x]) => [x!],
  NoInt2: ([x]) => [x!],
  Norris: ([x]) => powers(x!, 1),
  Pontius: ([x]) => powers(x!, 2),
};

/** The row of the design of a linear data set (NIST StRD) at its variables; the Wampler sets are quintics. */
export const designOf = (name: string): ((x: readonly number[]) => number[]) =>
  own[name] ?? (([x]) => powers(x!, 5));
