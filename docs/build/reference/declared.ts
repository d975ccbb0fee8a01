import { readFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import ts from "typescript";

const root = fileURLToPath(new URL("../../..", import.meta.url));

/**
 * The members of an interface with what its comments say of each, read from the
 * source itself. A sentence that goes on over members ("... and to be looked at")
 * stays as it is written.
 */
export function membersOf(path: string, name: string): { name: string; about: string }[] {
  const text = readFileSync(join(root, path), "utf8");
  const file = ts.createSourceFile(path, text, ts.ScriptTarget.ES2022, true);
  const found = file.statements.find(
    (each): each is ts.InterfaceDeclaration =>
      ts.isInterfaceDeclaration(each) && each.name.text === name,
  );
  if (found === undefined) throw new Error(`${path} declares no interface ${name}`);
  return found.members.filter(ts.isPropertySignature).map((member) => ({
    name: member.name.getText(),
    about: commentOf(member),
  }));
}

/** The words of a doc comment above a node, tags left out. */
export function commentOf(node: ts.Node): string {
  return ts
    .getJSDocCommentsAndTags(node)
    .filter(ts.isJSDoc)
    .map((doc) => ts.getTextOfJSDocComment(doc.comment) ?? "")
    .join("\n")
    .trim();
}
