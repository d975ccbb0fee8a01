import { execFile } from "node:child_process";
import {
  chmodSync,
  existsSync,
  lstatSync,
  mkdirSync,
  mkdtempSync,
  readFileSync,
  renameSync,
  rmSync,
  symlinkSync,
  utimesSync,
  writeFileSync,
} from "node:fs";
import { homedir, tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import { promisify } from "node:util";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  cacheState,
  clearCache,
  leaveCacheAlone,
  openCache,
  userCacheFolder,
} from "../../src/cache/disk-cache.js";
import { sizeLimits } from "../../src/core/size-limits.js";
import { ownCache } from "./own-cache.js";

const { folder, answers } = ownCache();
const open = (most = sizeLimits.cacheBytes) => openCache(undefined, most)!;
const only = () => join(folder(), answers()[0]!);

describe("what the cache keeps", () => {
  it("comes back the same, and only under its own question", () => {
    // What JSON would lose comes back too: the structured clone algorithm (HTML standard, 2.7).
    const value = { a: [1.1, -0, Number.NaN, undefined], b: null, c: "ö", d: { e: 1e-320 } };
    open().keep("day", value);
    expect(open().recall("day")).toEqual({ value });
    expect(Object.is((open().recall("day")!.value as typeof value).a[1], -0)).toBe(true);
    expect(open().recall("another day")).toBeNull();
  });

  it("is replaced by what is kept later", () => {
    open().keep("day", 1);
    open().keep("day", 2);
    expect(open().recall("day")).toEqual({ value: 2 });
    expect(answers()).toHaveLength(1);
  });

  it("is nothing where a file was cut off, changed in any byte, or put in another's place", () => {
    open().keep("day", { grams: [4040, 3900] });
    const name = answers()[0]!;
    const whole = readFileSync(only());
    fc.assert(
      fc.property(fc.nat(whole.length - 1), fc.integer({ min: 1, max: 255 }), (at, change) => {
        const spoilt = Buffer.from(whole);
        spoilt[at] = spoilt[at]! ^ change;
        writeFileSync(join(folder(), name), spoilt);
        expect(open().recall("day")).toBeNull();
        writeFileSync(join(folder(), name), whole.subarray(0, at));
        expect(open().recall("day")).toBeNull();
      }),
      { numRuns: 200 },
    );
    writeFileSync(join(folder(), name), whole);
    expect(open().recall("day")).not.toBeNull();
    open().keep("night", 1);
    const other = answers().find((each) => each !== name)!;
    writeFileSync(join(folder(), other), whole);
    expect(open().recall("night")).toBeNull();
    // What was found damaged is gone, so that it is not read again and again.
    expect(answers()).toEqual([name]);
  });

  it("is readable by its user alone, whatever the rights of the folder were", () => {
    mkdirSync(folder(), { recursive: true });
    chmodSync(folder(), 0o755);
    open().keep("day", 1);
    if (process.platform === "win32") return;
    expect(lstatSync(folder()).mode & 0o777).toBe(0o700);
    expect(lstatSync(only()).mode & 0o777).toBe(0o600);
  });

  it("stays within its bound: what was used least recently goes", () => {
    const value = "x".repeat(10_000);
    const most = 55_000;
    const cache = open(most);
    const dated = new Set<string>();
    for (let day = 0; day < 5; day++) {
      cache.keep(`day ${day}`, value);
      const old = new Date(1_700_000_000_000 + day * 1000);
      for (const each of answers().filter((name) => !dated.has(name))) {
        utimesSync(join(folder(), each), old, old);
        dated.add(each);
      }
    }
    // Used just now, though written first.
    expect(cache.recall("day 0")).not.toBeNull();
    cache.keep("day 5", value);
    expect(cacheState().bytes).toBeLessThanOrEqual(most);
    expect(cache.recall("day 0")).not.toBeNull();
    expect(cache.recall("day 1")).toBeNull();
    expect(cache.recall("day 5")).not.toBeNull();
    // One that is larger than everything else may be drives out nothing.
    cache.keep("all days", "x".repeat(60_000));
    expect(cache.recall("all days")).toBeNull();
    expect(cache.recall("day 5")).not.toBeNull();
    // Another process has a smaller bound: the folder shrinks when it first keeps something.
    open(25_000).keep("day 6", value);
    expect(cacheState().bytes).toBeLessThanOrEqual(25_000);
  });

  it("is whole, or not there, while several processes write at once", async () => {
    const file = fileURLToPath(new URL("../../dist/cache/disk-cache.js", import.meta.url));
    // A small bound, so that they take each other's answers out as well.
    const script = `
      const { openCache } = await import(${JSON.stringify(pathToFileURL(file).href)});
      const cache = openCache(undefined, 400_000);
      let found = 0;
      for (let turn = 0; turn < 150; turn++) {
        const n = turn % 7;
        cache.keep("day " + n, { n, text: String(n).repeat(20_000) });
        const got = cache.recall("day " + ((n + 3) % 7));
        if (got === null) continue;
        found++;
        if (got.value.text !== String(got.value.n).repeat(20_000)) throw new Error("torn");
      }
      console.log(found);`;
    const runs = await Promise.all(
      [1, 2, 3].map(() =>
        promisify(execFile)(process.execPath, ["--input-type=module", "-e", script]),
      ),
    );
    for (const { stdout, stderr } of runs) {
      expect(stderr).toBe("");
      expect(Number(stdout)).toBeGreaterThan(50);
    }
  });

  it("leaves no half-written file of a process that is gone", () => {
    open().keep("day", 1);
    const part = join(folder(), "0123.answer.999999999-0123abcd.part");
    writeFileSync(part, "x");
    open().keep("night", 1);
    expect(existsSync(part)).toBe(false);
    expect(answers()).toHaveLength(2);
  });
});

describe("where the cache lies", () => {
  it("is nowhere when switched off, and nothing fails where it cannot be had", () => {
    const place = process.env["GRAMLINE_CACHE"]!;
    leaveCacheAlone();
    expect(openCache()).toBeNull();
    process.env["GRAMLINE_CACHE"] = join(place, "file");
    writeFileSync(join(place, "file"), "");
    expect(openCache()).toBeNull();
    process.env["GRAMLINE_CACHE"] = place;
    const cache = open();
    cache.keep("day", 1);
    rmSync(folder(), { recursive: true });
    expect(cache.recall("day")).toBeNull();
    expect(() => cache.keep("day", 1)).not.toThrow();
    expect(open().recall("day")).toBeNull();
  });

  it("is never inside a study, by no way around", () => {
    const study = process.env["GRAMLINE_CACHE"]!;
    expect(openCache(study)).toBeNull();
    const link = mkdtempSync(join(tmpdir(), "gramline-link-"));
    const way = join(link, "way");
    symlinkSync(study, way, "junction");
    process.env["GRAMLINE_CACHE"] = join(way, "cache");
    expect(openCache(study)).toBeNull();
    process.env["GRAMLINE_CACHE"] = study;
    expect(openCache(join(link, "way"))).toBeNull();
    expect(existsSync(join(study, "cache"))).toBe(false);
    expect(existsSync(folder())).toBe(false);
    expect(openCache(link)).not.toBeNull();
    rmSync(link, { recursive: true });
  });

  it("is no folder that a link leads to", () => {
    const away = `${folder()}-away`;
    mkdirSync(away);
    symlinkSync(away, folder(), "junction");
    expect(openCache()).toBeNull();
    rmSync(folder());
    renameSync(away, folder());
    expect(openCache()).not.toBeNull();
  });

  it("is the user's folder for such things where none is named", () => {
    const before = { ...process.env };
    delete process.env["GRAMLINE_CACHE"];
    // XDG Base Directory Specification 0.8: a relative path in the variable is to be ignored.
    process.env["XDG_CACHE_HOME"] = "relative";
    if (process.platform === "linux")
      expect(userCacheFolder()).toBe(join(homedir(), ".cache", "gramline"));
    process.env["XDG_CACHE_HOME"] = tmpdir();
    expect(userCacheFolder()).toBe(join(tmpdir(), "gramline"));
    for (const each of ["GRAMLINE_CACHE", "XDG_CACHE_HOME"])
      if (before[each] === undefined) delete process.env[each];
      else process.env[each] = before[each];
  });

  it("is empty after clearing, and nothing else of the folder is touched", () => {
    open().keep("day", 1);
    const beside = join(process.env["GRAMLINE_CACHE"]!, "beside");
    writeFileSync(beside, "");
    expect(cacheState()).toMatchObject({ folder: folder(), answers: 1, isOff: false });
    expect(clearCache()).toBeGreaterThan(50);
    expect(cacheState()).toMatchObject({ answers: 0, bytes: 0 });
    expect(existsSync(beside)).toBe(true);
    expect(clearCache()).toBe(0);
  });
});
