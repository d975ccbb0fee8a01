import { readFileSync } from "node:fs";
import ts from "typescript";

/**
 * Every text written in a source file, outermost literals only: of a template all
 * branches together, values left out. Names of modules, keys, types and cases are no texts.
 */
export function literalsOf(path: string): string[] {
  const file = ts.createSourceFile(path, readFileSync(path, "utf8"), ts.ScriptTarget.Latest, true);
  const found: string[] = [];
  const visit = (node: ts.Node): void => {
    if (isNoText(node)) return;
    const text = textOf(node);
    if (text !== null) found.push(text);
    else ts.forEachChild(node, visit);
  };
  visit(file);
  return found;
}

function isNoText(node: ts.Node): boolean {
  return (
    ts.isImportDeclaration(node) ||
    ts.isExportDeclaration(node) ||
    ts.isTypeNode(node) ||
    ts.isInterfaceDeclaration(node) ||
    ts.isTypeAliasDeclaration(node) ||
    ts.isCaseClause(node)
  );
}

function textOf(node: ts.Node): string | null {
  if (ts.isStringLiteralLike(node)) return node.text;
  if (!ts.isTemplateExpression(node)) return null;
  const spans = node.templateSpans.map((span) => inside(span.expression) + span.literal.text);
  return node.head.text + spans.join("");
}

/** The texts of all branches in a value; without any, X stands for it. */
function inside(value: ts.Node): string {
  const parts: string[] = [];
  const visit = (node: ts.Node): void => {
    // What is handed to a function is the name of a value.
    if (ts.isCallExpression(node)) return;
    const text = textOf(node);
    if (text !== null) parts.push(text);
    else ts.forEachChild(node, visit);
  };
  visit(value);
  return parts.length === 0 ? "X" : parts.join(" ");
}
