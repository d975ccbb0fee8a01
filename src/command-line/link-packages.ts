import { existsSync, readlinkSync } from "node:fs";
import { lstat, mkdir, rm, symlink } from "node:fs/promises";
import { createRequire } from "node:module";
import { dirname, join, resolve } from "node:path";
import { writeAtomically } from "../records/files/write-atomically.js";

/**
 * The kernel looks for packages in a node_modules folder beside or above the notebook:
 * links there lead back to where gramline lies and to what the notebooks import beside
 * it, and `npx gramline` finds the command. A link that leads nowhere, because gramline
 * was moved or installed anew, is replaced; anything else of that name stays.
 *
 * @param root the study's folder.
 * @param home the folder gramline lies in.
 * @example await linkPackages("../my-nursery", home, ["gramline", "simple-statistics"])
 */
export async function linkPackages(
  root: string,
  home: string,
  names: readonly string[],
): Promise<void> {
  const modules = join(root, "node_modules");
  for (const name of names) {
    const target = name === "gramline" ? home : packageFolder(home, name);
    // A package that is optional and absent: the notebook itself says what to type.
    if (target !== null) await link(join(modules, name), target);
  }
  const bin = join(modules, ".bin", "gramline");
  const main = join(home, "dist", "command-line", "main.js");
  if (process.platform === "win32") {
    await mkdir(dirname(bin), { recursive: true });
    await writeAtomically(`${bin}.cmd`, `@node "${main}" %*\r\n`);
  } else await link(bin, main);
}

async function link(path: string, target: string): Promise<void> {
  const there = await lstat(path).catch(() => null);
  if (there !== null) {
    if (!there.isSymbolicLink()) return;
    if (resolve(dirname(path), readlinkSync(path)) === resolve(target) && existsSync(path)) return;
    await rm(path);
  }
  await mkdir(dirname(path), { recursive: true });
  await symlink(target, path, process.platform === "win32" ? "junction" : undefined);
}

/** Where a package lies as gramline itself finds it; null where it is not installed. */
function packageFolder(home: string, name: string): string | null {
  const folders = createRequire(join(home, "package.json")).resolve.paths(name) ?? [];
  const found = folders.map((each) => join(each, name)).find((each) => existsSync(each));
  return found ?? null;
}
