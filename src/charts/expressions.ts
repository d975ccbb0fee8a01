/**
 * Expressions of a picture, put together from functions once and then called, instead of
 * walked through again for every mark as the chart library's own interpreter does. No text
 * becomes code, and no function is ever reached through a member. What is not known here is
 * left to that interpreter.
 *
 * @example quickExpressions(library).operator({ functions: {} }, { ast }) // a function of the parameters
 */
export function quickExpressions(library: Interpreter): Interpreter {
  return {
    ...library,
    operator: (context, expression) => {
      const value = partOf(expression.ast, context.functions);
      return value === null
        ? library.operator(context, expression)
        : (parameters: Values) => value(parameters, undefined, undefined);
    },
    parameter: (context, expression) => {
      const value = partOf(expression.ast, context.functions);
      return value === null
        ? library.parameter(context, expression)
        : (datum: unknown, parameters: Values) => value(parameters, datum, undefined);
    },
    encode: (context, encode) => {
      const names = Object.keys(encode.channels);
      const values = names.map((name) => partOf(encode.channels[name]!.ast, context.functions));
      if (values.includes(null)) return library.encode(context, encode);
      const place = placing(encode);
      return (item: Item, parameters: Values) => {
        let moved = 0;
        for (let at = 0; at < names.length; at++) {
          const value = values[at]!(parameters, item.datum, item);
          if (item[names[at]!] === value) continue;
          item[names[at]!] = value;
          moved = 1;
        }
        place(item);
        return moved;
      };
    },
  };
}

export interface Interpreter {
  operator(context: Context, expression: Expression): unknown;
  parameter(context: Context, expression: Expression): unknown;
  encode(context: Context, encode: Encode): unknown;
}

interface Context {
  readonly functions: Functions;
}
interface Expression {
  readonly ast: Node;
}
interface Encode {
  readonly marktype: string;
  readonly channels: Readonly<Record<string, Expression>>;
}
type Functions = Readonly<Record<string, (...values: never[]) => unknown>>;
type Values = Readonly<Record<string, unknown>>;
// biome-ignore lint/suspicious/noExplicitAny: marks hold what their channels give
type Item = any;
type Value = (parameters: Values, datum: unknown, item: unknown) => unknown;

/** A part of an expression as the chart library reads it (the forms of ESTree). */
// biome-ignore lint/suspicious/noExplicitAny: each form has parts of its own
type Node = { readonly type: string } & Readonly<Record<string, any>>;

/** What a part gives; null where something in it is not known here. */
function partOf(node: Node, functions: Functions): Value | null {
  switch (node.type) {
    case "Literal": {
      const { value } = node as { value?: unknown };
      return () => value;
    }
    case "Identifier":
      return named(node["name"]);
    case "MemberExpression":
      return member(node, functions);
    case "CallExpression":
      return call(node, functions);
    case "ArrayExpression": {
      const all = allOf(node["elements"], functions);
      return all && ((p, datum, item) => all.map((each) => each(p, datum, item)));
    }
    case "UnaryExpression": {
      const by = unary[node["operator"]];
      return of(node["argument"], null, functions, (a) => by && ((...x) => by(a(...x))));
    }
    case "BinaryExpression": {
      const by = binary[node["operator"]];
      return of(node["left"], node["right"], functions, (a, b) => {
        return by && ((...x) => by(a(...x), b(...x)));
      });
    }
    case "LogicalExpression":
      return of(node["left"], node["right"], functions, (a, b) =>
        node["operator"] === "&&" ? (...x) => a(...x) && b(...x) : (...x) => a(...x) || b(...x),
      );
    case "ConditionalExpression":
      return either([node["test"], node["consequent"], node["alternate"]], functions);
    default:
      return null;
  }
}

function of(
  left: Node,
  right: Node | null,
  functions: Functions,
  make: (a: Value, b: Value) => Value | undefined,
): Value | null {
  const all = allOf(right === null ? [left] : [left, right], functions);
  return (all && make(all[0]!, all[1]!)) ?? null;
}

function allOf(nodes: readonly Node[], functions: Functions): readonly Value[] | null {
  const values = nodes.map((node) => partOf(node, functions));
  return values.includes(null) ? null : (values as Value[]);
}

function either(nodes: readonly Node[], functions: Functions): Value | null {
  const all = allOf(nodes, functions);
  if (all === null || all.length !== 3) return null;
  const [test, yes, no] = all as [Value, Value, Value];
  return (...x) => (test(...x) ? yes(...x) : no(...x));
}

function named(name: string): Value | null {
  if (name === "datum") return (_, datum) => datum;
  if (name === "item") return (_, __, item) => item;
  if (name === "event" || Object.hasOwn(constants, name)) return null;
  const key = `$${name}`;
  return (parameters) => parameters[key];
}

function member(node: Node, functions: Functions): Value | null {
  const key: Value | null = node["computed"]
    ? partOf(node["property"], functions)
    : () => node["property"].name;
  const owner = partOf(node["object"], functions);
  if (key === null || owner === null) return null;
  return (...x) => {
    const value = (owner(...x) as Record<string, unknown>)[key(...x) as string];
    return typeof value === "function" ? undefined : value;
  };
}

function call(node: Node, functions: Functions): Value | null {
  const name = String(node["callee"].name).replace(/^_/, "");
  if (name === "if") return either(node["arguments"], functions);
  const all = allOf(node["arguments"], functions);
  const by = functions[name] ?? (Object.hasOwn(plain, name) ? plain[name] : undefined);
  if (all === null || by === undefined) return null;
  const run = by as (...values: unknown[]) => unknown;
  const [a, b] = all;
  if (all.length === 1) return (...x) => run.call(functions, a!(...x));
  if (all.length === 2) return (...x) => run.call(functions, a!(...x), b!(...x));
  return (...x) =>
    run.apply(
      functions,
      all.map((each) => each(...x)),
    );
}

/** Left to the library's own interpreter, which knows their values. */
const constants = {
  NaN: 0,
  E: 0,
  LN2: 0,
  LN10: 0,
  LOG2E: 0,
  LOG10E: 0,
  PI: 0,
  SQRT1_2: 0,
  SQRT2: 0,
  MIN_VALUE: 0,
  MAX_VALUE: 0,
};

/** Functions of the language that pictures use, as the library's interpreter gives them. */
const plain: Functions = {
  isNaN: Number.isNaN,
  isFinite: Number.isFinite,
  abs: Math.abs,
  ceil: Math.ceil,
  floor: Math.floor,
  max: Math.max,
  min: Math.min,
  round: Math.round,
  regexp: RegExp,
  replace: (text: unknown, what: RegExp, by: string) => String(text).replace(what, by),
  utchours: (at: number) => new Date(at).getUTCHours(),
  length: (list: { readonly length: number }) => list.length,
};

// biome-ignore lint/suspicious/noExplicitAny: operators take what they are given, as in the language
const unary: Readonly<Record<string, (a: any) => unknown>> = {
  "+": (a) => +a,
  "-": (a) => -a,
  "!": (a) => !a,
};

// biome-ignore lint/suspicious/noExplicitAny: operators take what they are given, as in the language
const binary: Readonly<Record<string, (a: any, b: any) => unknown>> = {
  "*": (a, b) => a * b,
  "+": (a, b) => a + b,
  "-": (a, b) => a - b,
  "/": (a, b) => a / b,
  "%": (a, b) => a % b,
  ">": (a, b) => a > b,
  "<": (a, b) => a < b,
  "<=": (a, b) => a <= b,
  ">=": (a, b) => a >= b,
  "===": (a, b) => a === b,
  "!==": (a, b) => a !== b,
};

/** Where a mark with two ends or a centre lies, and how large it is, from its channels. */
function placing({ marktype, channels }: Encode): (item: Item) => void {
  if (marktype === "rule") return () => {};
  const swaps = marktype === "group" || marktype === "image" || marktype === "rect";
  const along = (at: "x" | "y", size: "width" | "height") => {
    const [end, centre] = [`${at}2`, `${at}c`];
    const [hasStart, hasEnd, hasCentre] = [at, end, centre].map((name) => name in channels);
    return (item: Item) => {
      if (hasEnd && hasStart) {
        if (swaps && item[at] > item[end]) [item[at], item[end]] = [item[end], item[at]];
        item[size] = item[end] - item[at];
      } else if (hasEnd) item[at] = item[end] - (item[size] || 0);
      if (hasCentre) item[at] = item[centre] - (item[size] || 0) / 2;
    };
  };
  const [across, up] = [along("x", "width"), along("y", "height")];
  return (item) => {
    across(item);
    up(item);
  };
}
