import { spawnSync } from "node:child_process";
import {
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  symlinkSync,
  writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { engineIsHere } from "../archive/small-study.js";
import { animalsCsv, settings, weighingsCsv } from "../records/small-study.js";
import { writingCommands } from "./writing-commands.js";

/**
 * Disks that are full or can be read only, made as small file systems in memory. That
 * needs the rights of an administrator on Linux: elsewhere these attacks are not run,
 * and with every `npm test` only those that need no disk of their own.
 */
const main = fileURLToPath(new URL("../../dist/command-line/main.js", import.meta.url));
const notebooks = fileURLToPath(new URL("../command-line/notebooks", import.meta.url));
const isWhole = process.env["ATTACKS"] === "all";
const work = mkdtempSync(join(tmpdir(), "gramline-disk-"));
const study = join(work, "study");
const disk = join(work, "disk");
const mount = (...words: string[]) => spawnSync("mount", words).status === 0;
const canMount = isWhole && existsSync(main) && process.getuid?.() === 0;

beforeAll(() => {
  mkdirSync(study);
  mkdirSync(disk);
  writeFileSync(join(study, "study.json"), JSON.stringify(settings));
  writeFileSync(join(study, "animals.csv"), animalsCsv);
  writeFileSync(join(study, "weighings.csv"), weighingsCsv);
});
afterAll(() => {
  spawnSync("umount", [disk]);
  rmSync(work, { recursive: true, force: true });
});

const run = (...words: string[]) => {
  const { status, stderr } = spawnSync(process.execPath, [main, ...words], { encoding: "utf8" });
  return { code: status, err: stderr };
};
const commands: Readonly<Record<string, (out: string) => string[]>> = {
  day: (out) => ["day", study, "--out", join(out, "day.html")],
  "hand-over": (out) => ["hand-over", study, "--out", join(out, "hand-over.html")],
  check: (out) => ["check", study, "--out", join(out, "check")],
  report: (out) => ["report", study, "--out", join(out, "report"), "--date", "2025-04-01"],
  new: (out) => ["new", join(out, "fresh"), "--zone", "UTC"],
  "check --save-mapping": (out) => ["check", join(out, "study"), "--no-write", "--save-mapping"],
  "run-notebooks": (out) => [
    ...["run-notebooks", "clean", "--notebooks", notebooks, "--out", join(out, "notebooks")],
  ],
  ...(engineIsHere
    ? {
        "archive add": (out) => [
          "archive",
          "add",
          study,
          "--to",
          join(out, "a"),
          "--facility",
          "oak",
        ],
      }
    : {}),
};
/** A study on the disk itself, whose table of weighings is called by other headings. */
function putStudy(folder: string): void {
  mkdirSync(folder);
  writeFileSync(join(folder, "study.json"), JSON.stringify(settings));
  writeFileSync(join(folder, "animals.csv"), animalsCsv);
  writeFileSync(join(folder, "weighings.csv"), weighingsCsv.replace("mass_g", "Gewicht (g)"));
}
const isMapped = () => readFileSync(join(disk, "study", "study.json"), "utf8").includes("Gewicht");
const filesOf = (folder: string) =>
  new Map(
    (
      readdirSync(folder, {
        recursive: true,
        withFileTypes: true,
      }) as never[] as import("node:fs").Dirent[]
    )
      .filter((entry) => entry.isFile() && !entry.name.startsWith(".written-by"))
      .map((entry) => {
        const path = join(entry.parentPath, entry.name);
        return [path, readFileSync(path, "latin1")] as const;
      }),
  );
const old = "the old one, made by gramline";

describe.skipIf(!canMount)("every command on a disk", () => {
  it("that is full: the old files stand, and a sentence names path and remedy", () => {
    for (const [name, words] of Object.entries(commands))
      onDisk("128k", () => whenFull(name, words));
  }, 900_000);

  it("that can be read only: a sentence, and not a trace", () => {
    for (const [name, words] of Object.entries(commands))
      onDisk("1m", () => whenReadOnly(name, words));
  }, 900_000);
});

describe.skipIf(!canMount)("a command that changes what is there", () => {
  const names = ["prior", "pool", "archive add", "archive remove", "check --save-mapping", "new"];
  it.each(["full", "read only"])(
    "on a disk that is %s leaves it as it was, and says path and remedy",
    async (how) => {
      for (const { name, words, prepare } of writingCommands(join(work, how))) {
        if (!names.includes(name)) continue;
        expect(mount("-t", "tmpfs", "-o", "size=8m", "tmpfs", disk)).toBe(true);
        try {
          const folder = join(disk, "made");
          mkdirSync(folder);
          await prepare(folder);
          if (how === "full")
            spawnSync("dd", ["if=/dev/zero", `of=${join(disk, "full")}`, "bs=4k"]);
          else expect(mount("-o", "remount,ro", disk)).toBe(true);
          const there = filesOf(folder);
          const { code, err } = run(...words(folder));
          expect(code, `${name}: ${err}`).toBe(2);
          expect(err, name).toMatch(/ENOSPC|EROFS|did not write|the disk is full/);
          expect(err, name).toMatch(
            /Free\s+space|another\s+disk|may\s+write\s+into|another\s+folder/,
          );
          expect(err, name).not.toMatch(/\n\s+at .*:\d+:\d+/);
          expect(filesOf(folder), name).toEqual(there);
        } finally {
          spawnSync("umount", [disk]);
        }
      }
    },
    900_000,
  );
});

function onDisk(size: string, attack: () => void): void {
  expect(mount("-t", "tmpfs", "-o", `size=${size}`, "tmpfs", disk)).toBe(true);
  try {
    attack();
  } finally {
    spawnSync("umount", [disk]);
  }
}

function whenFull(name: string, words: (out: string) => string[]): void {
  // An older page of ours, then no room for another one.
  writeFileSync(join(disk, "day.html"), old);
  writeFileSync(
    join(disk, ".written-by-gramline.json"),
    JSON.stringify({ sets: { day: ["day.html"] } }),
  );
  putStudy(join(disk, "study"));
  const fill = spawnSync("dd", ["if=/dev/zero", `of=${join(disk, "full")}`, "bs=4k"]);
  expect(fill.status).not.toBe(0);
  const { code, err } = run(...words(disk));
  expect(code, name).toBe(2);
  expect(err, name).toMatch(/disk.*(full|ENOSPC)/s);
  expect(err, name).toMatch(/Free\s+space|another\s+disk/);
  expect(err, name).not.toMatch(/\n\s+at .*:\d+:\d+/);
  expect(readFileSync(join(disk, "day.html"), "utf8"), name).toBe(old);
  expect([...filesOf(disk).keys()].filter((path) => path.endsWith(".part"))).toEqual([]);
  expect(isMapped(), name).toBe(false);
}

function whenReadOnly(name: string, words: (out: string) => string[]): void {
  writeFileSync(join(disk, "day.html"), old);
  putStudy(join(disk, "study"));
  expect(mount("-o", "remount,ro", disk)).toBe(true);
  const { code, err } = run(...words(disk));
  expect(code, name).toBe(2);
  expect(err, name).toMatch(/read\s+only \(EROFS\)|did not write/);
  expect(err, name).not.toMatch(/\n\s+at .*:\d+:\d+/);
  expect(readFileSync(join(disk, "day.html"), "utf8"), name).toBe(old);
}

describe.skipIf(!canMount)("what a run puts beside its outputs", () => {
  const inFolder = (name: string, at: string, words: readonly string[]) => {
    const env = { ...process.env, [name]: at };
    const run = spawnSync(process.execPath, [main, ...words], { encoding: "utf8", env });
    return { code: run.status, said: `${run.stdout}${run.stderr}` };
  };
  const clean = ["run-notebooks", "clean", "--notebooks", notebooks, "--out", join(work, "nb")];

  it.each(["full", "read only"])("on a disk that is %s is told, and not traced", (how) => {
    onDisk("64k", () => {
      const cache = join(disk, "cache");
      mkdirSync(join(cache, "answers"), { recursive: true });
      // Left by a kernel whose owner is gone.
      mkdirSync(join(disk, "gramline-kernel-999999999-old"));
      if (how === "full") spawnSync("dd", ["if=/dev/zero", `of=${join(disk, "full")}`, "bs=4k"]);
      else expect(mount("-o", "remount,ro", disk)).toBe(true);
      const notebook = inFolder("TMPDIR", disk, clean);
      expect(notebook.code, notebook.said).toBe(1);
      expect(notebook.said).toMatch(/needed to write .*(full|read\s+only) \((ENOSPC|EROFS)\)/s);
      expect(notebook.said).not.toMatch(/\n\s+at .*:\d+:\d+/);
      const out = join(work, "beside", "day.html");
      const day = inFolder("GRAMLINE_CACHE", cache, ["day", study, "--out", out]);
      expect(day.code, day.said).toBeLessThan(2);
      const clear = inFolder("GRAMLINE_CACHE", cache, ["cache", "clear"]);
      expect(clear.said).not.toMatch(/\n\s+at .*:\d+:\d+/);
      expect(clear.code).toBe(how === "full" ? 0 : 2);
    });
  });
});

it.skipIf(!existsSync(main))("a link of the study that leads nowhere is named, not traced", () => {
  symlinkSync(join(work, "gone.csv"), join(study, "feeds.csv"));
  const { code, err } = run("day", study, "--out", join(work, "out", "day.html"));
  rmSync(join(study, "feeds.csv"));
  expect(code).toBe(2);
  expect(err).toMatch(/feeds\.csv.*leads nowhere/s);
  expect(err).not.toMatch(/\n\s+at .*:\d+:\d+/);
});
