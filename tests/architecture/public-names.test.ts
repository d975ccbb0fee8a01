import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import ts from "typescript";
import { describe, expect, it } from "vitest";
import * as g from "../../src/index.js";
import * as node from "../../src/node.js";
import { unusedNames } from "./unused-names.js";

const root = fileURLToPath(new URL("../..", import.meta.url));
const isRoom = (x: unknown): x is Record<string, unknown> =>
  typeof x === "object" && x !== null && Object.prototype.toString.call(x) === "[object Module]";
const entries = Object.entries(g);
const rooms = entries.filter(([, value]) => isRoom(value));
const outsideStats = rooms.filter(([name]) => name !== "stats");
const names = outsideStats.flatMap(([room, value]) =>
  Object.keys(value as object).map((name) => `${room}.${name}`),
);

/** All text in which a public name may be used: notebooks, guides, and what makes pages and files. */
function places(): string {
  const under = (folder: string, ending: string) =>
    readdirSync(join(root, folder), { recursive: true, encoding: "utf8" })
      .filter((name) => name.endsWith(ending))
      .map((name) => readFileSync(join(root, folder, name), "utf8"));
  const wiring = ["analysis", "report", "notebook", "publish", "command-line"];
  return [
    ...under("notebooks", ".ipynb"),
    ...wiring.flatMap((room) =>
      // What a file imports and calls; a file that only defines and re-exports a name uses none.
      under(join("src", room), ".ts").map((text) =>
        text.replace(
          /export (?:async )?function \w+|export \* from.*|export \{[^}]*\} from.*/g,
          "",
        ),
      ),
    ),
    readFileSync(join(root, "README.md"), "utf8"),
  ].join("\n");
}

function atRunTime(path: string): boolean {
  const found = (from: unknown) =>
    path.split(".").reduce<unknown>((x, name) => (x as Record<string, unknown>)?.[name], from);
  return found(g) !== undefined || found(node) !== undefined;
}

describe("the public names", () => {
  it("are at most 25 at the top", () => {
    expect(entries.length).toBeLessThanOrEqual(25);
    expect(entries.map(([name]) => name)).toEqual(
      expect.arrayContaining(["readStudy", "analyse", "show", "writeReport", "askDay"]),
    );
  });

  it("are at most 180 in all rooms outside stats", () => {
    expect(names.length).toBeGreaterThan(50);
    expect(names.length).toBeLessThanOrEqual(180);
  });

  it("are no objects that are bags of functions", () => {
    const bags = outsideStats.flatMap(([room, value]) =>
      Object.entries(value as object)
        .filter(
          ([, each]) =>
            typeof each === "object" &&
            each !== null &&
            Object.values(each).some((inner) => typeof inner === "function"),
        )
        .map(([name]) => `${room}.${name}`),
    );
    expect(bags).toEqual([]);
  });

  it("are each used, or listed with a reason", () => {
    const text = places();
    const used = (name: string) => new RegExp(`\\b${name.split(".")[1]}\\b`).test(text);
    const unused = names.filter((name) => !used(name));
    const listed = unusedNames.flatMap((each) => each.names.split(" "));
    expect(unused.filter((name) => !listed.includes(name))).toEqual([]);
    expect(listed.filter((name) => !unused.includes(name))).toEqual([]);
    expect(unusedNames.filter(({ reason }) => reason.length < 20)).toEqual([]);
  });

  it("take and return only types that can be imported", () => {
    const entry = join(root, "src", "index.ts");
    const config = ts.readConfigFile(join(root, "tsconfig.json"), ts.sys.readFile).config;
    const { options } = ts.parseJsonConfigFileContent(config, ts.sys, root);
    const program = ts.createProgram([entry, join(root, "src", "node.ts")], options);
    const checker = program.getTypeChecker();
    const importable = new Set<ts.Symbol>();
    const functions: [string, ts.Symbol][] = [];
    const resolve = (s: ts.Symbol) =>
      s.flags & ts.SymbolFlags.Alias ? checker.getAliasedSymbol(s) : s;
    const visitModule = (module: ts.Symbol, at: string, depth: number) => {
      for (const exported of checker.getExportsOfModule(module)) {
        const symbol = resolve(exported);
        importable.add(symbol);
        if (symbol.flags & ts.SymbolFlags.Module && depth < 2)
          visitModule(symbol, `${at}${exported.name}.`, depth + 1);
        // `export type *` names functions too; only what exists at run time can be called.
        const there = atRunTime(at + exported.name);
        if (there && symbol.flags & ts.SymbolFlags.Function)
          functions.push([at + exported.name, symbol]);
      }
    };
    for (const file of [entry, join(root, "src", "node.ts")])
      visitModule(checker.getSymbolAtLocation(program.getSourceFile(file)!)!, "", 0);
    const missing = new Set<string>();
    for (const [name, symbol] of functions) {
      for (const declaration of symbol.declarations ?? []) {
        if (!ts.isFunctionDeclaration(declaration)) continue;
        const written = [...declaration.parameters.map((p) => p.type), declaration.type];
        const visit = (node: ts.Node): void => {
          if (ts.isTypeReferenceNode(node)) {
            const found = checker.getSymbolAtLocation(node.typeName);
            const target = found && resolve(found);
            const ours = target?.declarations?.some((d) =>
              d.getSourceFile().fileName.startsWith(join(root, "src")),
            );
            const isParameter = (target?.flags ?? 0) & ts.SymbolFlags.TypeParameter;
            if (target && ours && !isParameter && !importable.has(target))
              missing.add(`${name}: ${target.name}`);
          }
          ts.forEachChild(node, visit);
        };
        for (const each of written) if (each) visit(each);
      }
    }
    expect(functions.length).toBeGreaterThan(200);
    expect([...missing].sort()).toEqual([]);
  });
});
