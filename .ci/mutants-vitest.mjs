/** The part of vitest that tests of single files use, without its workers: see mutants-runner. */
import {
  ASYMMETRIC_MATCHERS_OBJECT,
  JestAsymmetricMatchers,
  JestChaiExpect,
  JestExtend,
} from "@vitest/expect";
import * as chai from "chai";

for (const plugin of [JestExtend, JestChaiExpect, JestAsymmetricMatchers]) chai.use(plugin);
export const expect = Object.assign(
  (value, message) => chai.expect(value, message),
  chai.expect,
  globalThis[ASYMMETRIC_MATCHERS_OBJECT],
);

/** Every test, with what is done before it. */
export const tests = [];
const path = [];
let before = [];

export function describe(name, body) {
  const outer = before;
  before = [...outer];
  path.push(name);
  body();
  path.pop();
  before = outer;
}
/** Once before the first of the tests it stands above. */
export function beforeAll(prepare) {
  let done;
  before.push(() => (done ??= Promise.resolve(prepare())));
}
export const beforeEach = (prepare) => before.push(prepare);

export function it(name, body) {
  const first = [...before];
  // Two of one name are two.
  const id = `${[...path, name].join(" > ")} (${tests.length})`;
  const run = async () => {
    for (const prepare of first) await prepare();
    await body();
  };
  tests.push({ id, run });
}
const each = (of) => (table) => (name, body) => {
  for (const row of table) of(name, () => body(...(Array.isArray(row) ? row : [row])));
};
it.each = each(it);
describe.each = each(describe);
export const test = it;
