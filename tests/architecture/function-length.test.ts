import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import ts from "typescript";
import { describe, expect, it } from "vitest";

/** Lines after which a function is no longer a story of named steps. */
const most = 120;

function functionsOf(
  name: string,
  text: string,
): { readonly name: string; readonly lines: number }[] {
  const file = ts.createSourceFile(name, text, ts.ScriptTarget.Latest, true);
  const line = (at: number) => file.getLineAndCharacterOfPosition(at).line;
  const found: { name: string; lines: number }[] = [];
  const visit = (node: ts.Node): void => {
    if (ts.isFunctionLike(node) && "body" in node && node.body !== undefined) {
      const own = "name" in node && node.name !== undefined ? node.name.getText() : null;
      const given = ts.isVariableDeclaration(node.parent) ? node.parent.name.getText() : null;
      found.push({
        name: `${name}: ${own ?? given ?? "(without a name)"}`,
        lines: line(node.end) - line(node.getStart()) + 1,
      });
    }
    ts.forEachChild(node, visit);
  };
  visit(file);
  return found;
}

describe("functions", () => {
  const src = fileURLToPath(new URL("../../src", import.meta.url));
  const all = readdirSync(src, { recursive: true, encoding: "utf8" })
    .filter((name) => name.endsWith(".ts"))
    .flatMap((name) =>
      functionsOf(name.replaceAll("\\", "/"), readFileSync(join(src, name), "utf8")),
    );

  it(`have at most ${most} lines`, () => {
    const long = all.filter(({ lines }) => lines > most);
    expect(long).toEqual([]);
  });

  it("and a longer one would be found, whatever it is", () => {
    const lines = "\n".repeat(most);
    const made = `function a() {${lines}}\nconst b = () => {${lines}};\nclass C { d() {${lines}} }\ne(() => {${lines}});`;
    expect(functionsOf("x.ts", made).map(({ name, lines: n }) => `${name} ${n}`)).toEqual([
      `x.ts: a ${most + 1}`,
      `x.ts: b ${most + 1}`,
      `x.ts: d ${most + 1}`,
      `x.ts: (without a name) ${most + 1}`,
    ]);
    expect(all.length).toBeGreaterThan(3000);
  });
});
