import { UsageError } from "../core/usage-error.js";

/** A formula read from text: its value for given names. */
export type CompiledFormula = (values: ArrayLike<number>) => number;

type Node = (v: ArrayLike<number>) => number;

const functions: Readonly<Record<string, (...x: number[]) => number>> = {
  exp: Math.exp,
  log: Math.log,
  log10: Math.log10,
  log1p: Math.log1p,
  expm1: Math.expm1,
  sqrt: Math.sqrt,
  cbrt: Math.cbrt,
  abs: Math.abs,
  sin: Math.sin,
  cos: Math.cos,
  tan: Math.tan,
  atan: Math.atan,
  tanh: Math.tanh,
  min: Math.min,
  max: Math.max,
};
const constants: Readonly<Record<string, number>> = { pi: Math.PI };

/**
 * Reads a formula such as `A / (1 + exp(-k * (t - Ti)))` and returns a function
 * of the values of `names`, in their order. Knows + - * / ^ ( ), numbers, pi,
 * and exp log log10 log1p expm1 sqrt cbrt abs sin cos tan atan tanh min max.
 * Nothing in the text is ever run as code. Throws `UsageError` with the place.
 *
 * @example compileFormula("a * t ^ 2", ["t", "a"])([3, 2]) // 18
 */
export function compileFormula(text: string, names: readonly string[]): CompiledFormula {
  const tokens = [
    ...text.matchAll(
      /\s*(?:(\d+\.?\d*(?:[eE][+-]?\d+)?|\.\d+(?:[eE][+-]?\d+)?)|([A-Za-z_]\w*)|(\S))/g,
    ),
  ].map((m) => ({ number: m[1], name: m[2], sign: m[3], at: (m.index ?? 0) + m[0].length }));
  let next = 0;
  const fail = (needed: string): never => {
    const token = tokens[next];
    const came = token === undefined ? "the end" : `"${token.number ?? token.name ?? token.sign}"`;
    throw new UsageError({
      needed,
      came: `${came} came at character ${token?.at ?? text.length} of "${text}"`,
      where: "the formula of a curve",
      todo: `Use + - * / ^ ( ), numbers, the names ${names.join(", ")} and ${Object.keys(functions).join(", ")}.`,
    });
  };
  const takes = (sign: string): boolean => {
    if (tokens[next]?.sign !== sign) return false;
    next++;
    return true;
  };

  const sum = (): Node => {
    let left = product();
    for (;;) {
      const a = left;
      if (takes("+")) {
        const b = product();
        left = (v) => a(v) + b(v);
      } else if (takes("-")) {
        const b = product();
        left = (v) => a(v) - b(v);
      } else return left;
    }
  };
  const product = (): Node => {
    let left = signed();
    for (;;) {
      const a = left;
      if (takes("*")) {
        const b = signed();
        left = (v) => a(v) * b(v);
      } else if (takes("/")) {
        const b = signed();
        left = (v) => a(v) / b(v);
      } else return left;
    }
  };
  const signed = (): Node => {
    if (takes("+")) return signed();
    if (!takes("-")) return power();
    const a = signed();
    return (v) => -a(v);
  };
  // The power binds tighter than a sign before it and groups to the right.
  const power = (): Node => {
    const a = atom();
    if (!takes("^")) return a;
    const b = signed();
    return (v) => a(v) ** b(v);
  };
  const atom = (): Node => {
    const token = tokens[next];
    if (token?.number !== undefined) {
      next++;
      const value = Number(token.number);
      return () => value;
    }
    if (takes("(")) {
      const inner = sum();
      if (!takes(")")) fail('a closing ")"');
      return inner;
    }
    if (token?.name === undefined) return fail("a number, a name or an opening bracket");
    next++;
    const at = names.indexOf(token.name);
    if (at >= 0) return (v) => v[at]!;
    const f = Object.hasOwn(functions, token.name) ? functions[token.name] : undefined;
    if (f !== undefined) {
      if (!takes("(")) fail(`"(" after ${token.name}`);
      const inner = [sum()];
      while (takes(",")) inner.push(sum());
      if (!takes(")")) fail('a closing ")"');
      const [a, b] = inner;
      if (inner.length === 1) return (v) => f(a!(v));
      if (inner.length === 2) return (v) => f(a!(v), b!(v));
      return (v) => f(...inner.map((each) => each(v)));
    }
    const constant = Object.hasOwn(constants, token.name) ? constants[token.name] : undefined;
    if (constant !== undefined) return () => constant;
    next--;
    return fail("a known name");
  };

  const root = sum();
  if (next < tokens.length) fail("an operator or the end");
  return root;
}
