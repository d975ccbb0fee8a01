import { createHash } from "node:crypto";
import {
  chmodSync,
  lstatSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  realpathSync,
  renameSync,
  rmSync,
  utimesSync,
  writeFileSync,
} from "node:fs";
import { homedir } from "node:os";
import { basename, dirname, isAbsolute, join, resolve } from "node:path";
import { deserialize, serialize } from "node:v8";
import type { Remembered } from "../core/remembered.js";
import { sizeLimits } from "../core/size-limits.js";
import { partEnding, partState } from "../records/files/part-names.js";
import { leadsInto } from "../records/files/path-within.js";

/** The one cache on disk; nothing else of gramline knows where it lies or what a file of it looks like. */
export interface DiskCache extends Remembered {
  readonly folder: string;
}

const ending = ".answer";
const magic = Buffer.from("gramline answer 1\n");

/** The value of `GRAMLINE_CACHE` with which nothing is read and nothing kept. */
const off = "off";

/** From here on this process, and those that it starts, neither read the cache nor write it. */
export function leaveCacheAlone(): void {
  process.env["GRAMLINE_CACHE"] = off;
}

/**
 * The folder of this user for what can be made again: `GRAMLINE_CACHE`, else as the system
 * has it (`XDG_CACHE_HOME` or `~/.cache`, `~/Library/Caches`, `%LOCALAPPDATA%`).
 *
 * @example userCacheFolder() // "/home/ada/.cache/gramline"
 */
export function userCacheFolder(): string {
  const { GRAMLINE_CACHE: named, XDG_CACHE_HOME: xdg, LOCALAPPDATA: local } = process.env;
  if (named !== undefined && named !== "" && named !== off) return resolve(named);
  if (xdg !== undefined && isAbsolute(xdg)) return join(xdg, "gramline");
  if (process.platform === "win32")
    return join(local ?? join(homedir(), "AppData", "Local"), "gramline", "Cache");
  const own = process.platform === "darwin" ? join("Library", "Caches") : ".cache";
  return join(homedir(), own, "gramline");
}

/**
 * Opens the cache; null where it is switched off, cannot be had, or would lie in a folder
 * that it must stay out of.
 *
 * @param notIn a study's folder.
 */
export function openCache(notIn?: string, most = sizeLimits.cacheBytes): DiskCache | null {
  if (process.env["GRAMLINE_CACHE"] === off) return null;
  const folder = join(userCacheFolder(), "answers");
  try {
    if (notIn !== undefined && leadsInto(truePath(notIn), truePath(folder))) return null;
    mkdirSync(folder, { recursive: true, mode: 0o700 });
    const is = lstatSync(folder);
    // A link, or a folder of somebody else, may hand what is kept to others.
    if (!is.isDirectory() || (process.getuid !== undefined && is.uid !== process.getuid()))
      return null;
    if ((is.mode & 0o077) !== 0) chmodSync(folder, 0o700);
  } catch {
    return null;
  }
  // Known only when something is kept for the first time.
  let held: number | null = null;
  return {
    folder,
    recall: (question) => readAnswer(folder, question),
    keep: (question, value) => {
      const bytes = answerBytes(question, value);
      if (bytes.length > Math.min(sizeLimits.answerBytes, most)) return;
      try {
        held = (held ?? shrink(folder, most)) + bytes.length;
        if (held > most) held = shrink(folder, most - bytes.length) + bytes.length;
        writeAnswer(folder, question, bytes);
      } catch {
        // A full disk, a folder taken away: the next run works it out again.
      }
    },
  };
}

/** Empties the cache; answers how many bytes went. */
export function clearCache(): number {
  const folder = join(userCacheFolder(), "answers");
  const bytes = contents(folder).reduce((sum, file) => sum + file.bytes, 0);
  rmSync(folder, { recursive: true, force: true });
  return bytes;
}

/** Where the cache lies and what it holds now. */
export function cacheState() {
  const folder = join(userCacheFolder(), "answers");
  const files = contents(folder);
  return {
    folder,
    answers: files.length,
    bytes: files.reduce((sum, file) => sum + file.bytes, 0),
    isOff: process.env["GRAMLINE_CACHE"] === off,
  };
}

/** A path without links, as far as there is anything on it. */
function truePath(path: string): string {
  const whole = resolve(path);
  try {
    return realpathSync(whole);
  } catch {
    const above = dirname(whole);
    return above === whole ? whole : join(truePath(above), basename(whole));
  }
}

const digest = (...parts: readonly (string | Uint8Array)[]) => {
  const hash = createHash("sha256");
  for (const part of parts) hash.update(part);
  return hash.digest();
};

const fileOf = (folder: string, question: string) =>
  join(folder, `${digest(question).toString("hex").slice(0, 40)}${ending}`);

/** Mark, digest of the rest, then question and value: what is not whole is told from what is. */
function answerBytes(question: string, value: unknown): Buffer {
  const body = serialize({ question, value });
  return Buffer.concat([magic, digest(body), body]);
}

function readAnswer(folder: string, question: string): { readonly value: unknown } | null {
  const path = fileOf(folder, question);
  let bytes: Buffer;
  try {
    bytes = readFileSync(path);
  } catch {
    return null;
  }
  const start = magic.length + 32;
  const body = bytes.subarray(start);
  try {
    if (bytes.subarray(0, magic.length).equals(magic))
      if (bytes.subarray(magic.length, start).equals(digest(body))) {
        const kept = deserialize(body) as { readonly question: string; readonly value: unknown };
        if (kept.question === question) {
          const now = new Date();
          try {
            utimesSync(path, now, now);
          } catch {
            // Read all the same; it only counts as unused.
          }
          return { value: kept.value };
        }
      }
    rmSync(path, { force: true });
  } catch {
    // Damaged: as if it were not there.
  }
  return null;
}

function writeAnswer(folder: string, question: string, bytes: Buffer): void {
  const path = fileOf(folder, question);
  const part = `${path}${partEnding()}`;
  try {
    writeFileSync(part, bytes, { mode: 0o600, flag: "wx" });
    renameSync(part, path);
  } catch (error) {
    rmSync(part, { force: true });
    throw error;
  }
}

/** The files of the cache, the one used least recently first. */
function contents(folder: string) {
  let names: string[];
  try {
    names = readdirSync(folder);
  } catch {
    return [];
  }
  return names
    .flatMap((name) => {
      const path = join(folder, name);
      const is = lstatSync(path, { throwIfNoEntry: false });
      return is?.isFile() ? [{ path, bytes: is.size, used: is.mtimeMs }] : [];
    })
    .sort((a, b) => a.used - b.used);
}

/** Takes out what was used least recently, and what killed processes left; answers the bytes that stay. */
function shrink(folder: string, most: number): number {
  const files = contents(folder);
  let held = files.reduce((sum, file) => sum + file.bytes, 0);
  for (const { path, bytes } of files) {
    const state = partState(path);
    if (state === "being written" || (state === "no part" && held <= most)) continue;
    rmSync(path, { force: true });
    held -= bytes;
  }
  return held;
}
