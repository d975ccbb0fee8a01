import { dirname, relative } from "node:path";
import { fileURLToPath } from "node:url";
import ts from "typescript";
import * as entry from "../../../src/index.js";
import * as node from "../../../src/node.js";
import { anchorOf } from "../../../src/report/renderers/page/section-html.js";
import { asIs, code, type DocPage } from "../page.js";

const dist = fileURLToPath(new URL("../../../dist", import.meta.url));

/** A public name: a function or a value by the path it is called by, or a type by its room. */
interface Declared {
  /** As it is called: `growth.fitCurve`. A type: its name. */
  readonly name: string;
  readonly page: string;
  readonly declaration: string;
  readonly about: string;
  readonly examples: readonly string[];
  /** Types that its declaration mentions, by name. */
  readonly mentions: readonly string[];
}

/**
 * The library's public names, from the declarations that `npm run build` writes: a
 * page for each room, with signature, docstring and example, and the types of each
 * room. Only what exists at run time can be called and is listed as a function.
 */
export function apiPages(): DocPage[] {
  const { callable, types } = readDeclarations();
  const typePages = new Map(types.map((each) => [each.name, each]));
  const pages = [...new Set([...callable, ...types].map((each) => each.page))].sort();
  const drawn = pages.map((page): DocPage => {
    const functions = callable.filter((each) => each.page === page);
    const own = types.filter((each) => each.page === page);
    return { name: page, markdown: roomPage(page, functions, own, typePages) };
  });
  return [overview(callable, pages), ...drawn];
}

function roomPage(
  page: string,
  functions: readonly Declared[],
  types: readonly Declared[],
  typePages: ReadonlyMap<string, Declared>,
): string {
  const entries = functions.map((each) => entryOf(each, typePages));
  const drawnTypes = types.map((each) => entryOf(each, typePages));
  return [
    `# ${titleOfPage(page)}`,
    functions.length === 0 ? "" : `## Functions and values`,
    ...entries,
    types.length === 0 ? "" : `## Types`,
    ...drawnTypes,
  ]
    .filter((part) => part !== "")
    .join("\n\n");
}

function entryOf(each: Declared, types: ReadonlyMap<string, Declared>): string {
  const links = each.mentions.flatMap((name) => {
    const to = types.get(name);
    if (to === undefined || to.name === each.name) return [];
    const file = to.page === each.page ? "" : `${to.page}.md`;
    return [`[${asIs(name)}](${file}#${anchorOf(name)})`];
  });
  return [
    `### ${each.name}`,
    `\`\`\`text\n${each.declaration}\n\`\`\``,
    asMarkdown(each.about),
    ...each.examples.map((example) => `Example:\n\n\`\`\`text\n${example}\n\`\`\``),
    links.length === 0 ? "" : `Types: ${links.join(", ")}`,
  ]
    .filter((part) => part !== "")
    .join("\n\n");
}

/** A docstring as it stands, its code words kept, all else as text. */
function asMarkdown(about: string): string {
  return about
    .split(/\n\s*\n/)
    .map((paragraph) =>
      paragraph
        .split(/(`[^`]+`)/)
        .map((part, i) => (i % 2 === 1 ? part : asIs(part)))
        .join(""),
    )
    .join("\n\n");
}

function overview(callable: readonly Declared[], pages: readonly string[]): DocPage {
  const parts = pages
    .map((page) => {
      const names = callable
        .filter((each) => each.page === page)
        .map((each) => `[${code(each.name)}](${page}.md#${anchorOf(each.name)})`);
      return names.length === 0
        ? `## [${titleOfPage(page)}](${page}.md)\n\nTypes.`
        : `## [${titleOfPage(page)}](${page}.md)\n\n${names.join(", ")}`;
    })
    .join("\n\n");
  return {
    name: "api",
    markdown: `# In your own code

Every public name by room, from the declarations of this version: signature, what it does, units, errors, source, example. \`import * as g from "gramline"\` brings them all; \`gramline/growth\` and \`gramline/stats\` also run in a browser, \`gramline/node\` adds files and worker threads.

${parts}`,
  };
}

function titleOfPage(page: string): string {
  const room = page.replace(/^api-/, "");
  return room === "entry" ? "The entry" : `Room: ${room}`;
}

function readDeclarations(): { callable: Declared[]; types: Declared[] } {
  const files = ["index.d.ts", "node.d.ts"].map((name) => `${dist}/${name}`);
  const program = ts.createProgram(files, {
    module: ts.ModuleKind.NodeNext,
    moduleResolution: ts.ModuleResolutionKind.NodeNext,
    target: ts.ScriptTarget.ES2022,
    types: [],
    skipLibCheck: true,
  });
  const checker = program.getTypeChecker();
  const callable = new Map<string, Declared>();
  const types = new Map<string, Declared>();
  const resolve = (s: ts.Symbol) =>
    s.flags & ts.SymbolFlags.Alias ? checker.getAliasedSymbol(s) : s;
  const visit = (module: ts.Symbol, path: readonly string[]) => {
    for (const exported of checker.getExportsOfModule(module)) {
      const symbol = resolve(exported);
      const at = [...path, exported.name];
      if (symbol.flags & ts.SymbolFlags.Module && path.length === 0) {
        visit(symbol, at);
        continue;
      }
      const declaration = (symbol.declarations ?? []).find((each) =>
        each.getSourceFile().fileName.startsWith(dist),
      );
      if (declaration === undefined) continue;
      const isType =
        ts.isInterfaceDeclaration(declaration) || ts.isTypeAliasDeclaration(declaration);
      if (isType && !types.has(exported.name))
        types.set(exported.name, declared(exported.name, declaration, roomOf(declaration)));
      if (!isType && there(at) && !callable.has(at.join(".")))
        callable.set(at.join("."), declared(at.join("."), declaration, pageOf(at, declaration)));
    }
  };
  for (const file of files) {
    const source = program.getSourceFile(file);
    if (source === undefined) throw new Error(`${file} is missing: npm run build makes it`);
    visit(checker.getSymbolAtLocation(source)!, []);
  }
  const byName = (a: Declared, b: Declared) => (a.name < b.name ? -1 : 1);
  return { callable: [...callable.values()].sort(byName), types: [...types.values()].sort(byName) };
}

/** Whether a name exists when the library runs; `export type *` names functions too. */
function there(path: readonly string[]): boolean {
  const found = (from: unknown) =>
    path.reduce<unknown>((x, name) => (x as Record<string, unknown> | undefined)?.[name], from);
  return found(entry) !== undefined || found(node) !== undefined;
}

const roomOf = (declaration: ts.Node): string => {
  const folder = dirname(relative(dist, declaration.getSourceFile().fileName));
  const [room, inner] = folder.split("/");
  return `api-${room === "." ? "entry" : room === "stats" && inner !== undefined ? `stats-${inner}` : room}`;
};

/** Functions stand where they are called from; those of `stats` are too many for one page. */
function pageOf(at: readonly string[], declaration: ts.Node): string {
  if (at.length === 1) return "api-entry";
  return at[0] === "stats" ? roomOf(declaration) : `api-${at[0]}`;
}

function declared(name: string, declaration: ts.Declaration, page: string): Declared {
  const statement = ts.isVariableDeclaration(declaration) ? declaration.parent.parent : declaration;
  const docs = ts.getJSDocCommentsAndTags(statement).filter(ts.isJSDoc);
  const tags = docs.flatMap((doc) => doc.tags ?? []);
  const words = (tag: ts.JSDocTag) => ts.getTextOfJSDocComment(tag.comment) ?? "";
  const spoken = tags
    .filter((tag) => ["param", "returns", "throws"].includes(tag.tagName.text))
    .map((tag) =>
      ts.isJSDocParameterTag(tag)
        ? `\`${tag.name.getText()}\`: ${words(tag)}`
        : `${tag.tagName.text === "throws" ? "Throws" : "Returns"} ${words(tag)}`,
    );
  const about = [...docs.map((doc) => ts.getTextOfJSDocComment(doc.comment) ?? ""), ...spoken];
  const mentions = new Set<string>();
  const look = (each: ts.Node): void => {
    if (ts.isTypeReferenceNode(each)) mentions.add(each.typeName.getText());
    if (ts.isExpressionWithTypeArguments(each)) mentions.add(each.expression.getText());
    ts.forEachChild(each, look);
  };
  look(statement);
  return {
    name,
    page,
    declaration: statement
      .getText()
      .replace(/^export (declare )?/, "")
      .replace(/^( {4})+/gm, (blanks) => "  ".repeat(blanks.length / 4)),
    about: about.filter((each) => each !== "").join("\n\n"),
    examples: tags.filter((tag) => tag.tagName.text === "example").map(words),
    mentions: [...mentions],
  };
}
