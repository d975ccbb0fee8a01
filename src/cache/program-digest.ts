import { createHash } from "node:crypto";
import { readdirSync, readFileSync, statSync } from "node:fs";
import { join, sep } from "node:path";
import { fileURLToPath } from "node:url";

let known: string | null = null;

/**
 * What an answer hangs on beside its input: this program, word for word, and the engine,
 * whose arithmetic and time zones may differ from version to version.
 *
 * @example programDigest() === programDigest() // true
 */
export function programDigest(): string {
  known ??= createHash("sha256")
    .update(JSON.stringify([ownWords(), process.versions, process.arch, process.platform]))
    .digest("hex");
  return known;
}

/** In a package its version says it all; where it is built from sources, what it was built from. */
function ownWords(): string[] {
  const code = fileURLToPath(new URL("..", import.meta.url));
  const text = (path: string) => {
    try {
      return readFileSync(path, "utf8");
    } catch {
      return "";
    }
  };
  const packageFile = text(join(code, "..", "package.json"));
  if (code.endsWith(`${sep}dist${sep}`)) {
    const built = statSync(join(code, ".tsbuildinfo"), { throwIfNoEntry: false })?.mtimeMs ?? 0;
    return [packageFile, text(join(code, ".built-from")), String(built)];
  }
  const sources = readdirSync(code, { recursive: true, encoding: "utf8" }).sort();
  return [
    packageFile,
    ...sources.filter((name) => /\.(?:ts|js)$/.test(name)).map((name) => text(join(code, name))),
  ];
}
