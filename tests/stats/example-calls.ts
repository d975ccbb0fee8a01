import { readdirSync, readFileSync, statSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";

export const src = fileURLToPath(new URL("../../src", import.meta.url));

export const under = (path: string): string[] =>
  statSync(path).isDirectory() ? readdirSync(path).flatMap((n) => under(join(path, n))) : [path];

export interface Example {
  readonly path: string;
  readonly code: string;
  readonly stated: string;
  /** The function it stands on. */
  readonly of: string | undefined;
}

/** Everything from `@example` to the next tag or the end of its comment; the last line states the value. */
export function examplesOf(path: string): Example[] {
  const source = readFileSync(path, "utf8");
  const blocks = source.matchAll(/@example\s([\s\S]*?)(?=\*\/|\n \* @)/g);
  return [...blocks].map((found) => {
    const behind = source.slice(source.indexOf("*/", found.index));
    const lines = found[1]!.split("\n").map((line) => line.replace(/^ \*( |$)/, "").trimEnd());
    const text = lines.filter((line) => line.trim() !== "").join("\n");
    const cut = text.lastIndexOf(" // ");
    return {
      path,
      code: cut < 0 ? text : text.slice(0, cut),
      of: /^\*\/\s*export (?:async )?function (\w+)/.exec(behind)?.[1],
      stated: cut < 0 ? "" : text.slice(cut + 4).trim(),
    };
  });
}

/** The last line is the value, those before it are statements. */
export function evaluated({ code }: Example, scope: Readonly<Record<string, unknown>>): unknown {
  const lines = code.split("\n");
  const last = lines.map((line) => line.endsWith(";")).lastIndexOf(true) + 1;
  const body = `${lines.slice(0, last).join("\n")}\nreturn (${lines.slice(last).join("\n")});`;
  try {
    return new Function(...Object.keys(scope), body)(...Object.values(scope));
  } catch (error) {
    return error;
  }
}

/** Everything that the files under these rooms export, by name: what an example may call. */
export async function scopeOf(paths: readonly string[]): Promise<Record<string, unknown>> {
  const scope: Record<string, unknown> = {};
  for (const path of paths) Object.assign(scope, await import(pathToFileURL(path).href));
  return scope;
}
