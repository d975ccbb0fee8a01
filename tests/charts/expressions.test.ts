import { createRequire } from "node:module";
import { describe, expect, it } from "vitest";
import { type Interpreter, quickExpressions } from "../../src/charts/expressions.js";

const require = createRequire(import.meta.url);
const { parseExpression } = require("vega");
const library = require("vega-interpreter").expressionInterpreter as Interpreter;
const quick = quickExpressions(library);

const context = { functions: { twice: (x: number) => 2 * x } };
const datum = { kind: "exam", mass: 2400, list: [3, 4], nothing: null };
const parameters = { $given: 7 };
const by = (interpreter: Interpreter, words: string) => {
  const expression = { ast: parseExpression(words) };
  const run = interpreter.parameter(context, expression) as (d: unknown, p: unknown) => unknown;
  return run(datum, parameters);
};

describe("expressions put together once", () => {
  // The library's own interpreter is the outside truth: an independent reading of the same grammar.
  it.each([
    "datum.mass >= given",
    "datum['kind'] === 'exam' ? datum.mass / 2 : -1",
    "isFinite(+datum.mass) && !isNaN(datum.mass)",
    "datum.nothing || 'none'",
    "if(datum.mass < 10, 1, twice(datum.list[1]))",
    "max(1, 2, datum.list[0])",
    "replace('1,200,300', regexp(',', 'g'), ' ')",
    "[1, given, datum.kind]",
    "length(datum.list) % 2",
    "utchours(1693094400000)",
    "PI * 2",
    "upper(datum.kind)",
    "{a: 1}.a",
  ])("give what the library's interpreter gives: %s", (words) => {
    expect(by(quick, words)).toEqual(by(library, words));
    expect(by(quick, words)).not.toBeUndefined();
  });

  it("reach no function through a member", () => {
    expect(by(quick, "datum.kind.constructor")).toBeUndefined();
    expect(by(quick, "datum.list.map")).toBeUndefined();
    expect(() => by(quick, "datum.kind.constructor.constructor")).toThrow(TypeError);
  });

  it("place a mark between its two ends, and turn ends about where they are swapped", () => {
    const channels = Object.fromEntries(
      ["x", "x2", "yc", "height"].map((name) => [name, { ast: parseExpression(`datum.${name}`) }]),
    );
    for (const marktype of ["rect", "line", "rule"]) {
      const items = [library, quick].map((interpreter) => {
        const encode = interpreter.encode(context, { marktype, channels }) as (
          item: object,
          parameters: object,
        ) => number;
        const item = { datum: { x: 9, x2: 4, yc: 10, height: 6 } };
        return [encode(item, {}), encode(item, {}), item];
      });
      expect(items[1]).toEqual(items[0]);
    }
  });
});
