import { createHash } from "node:crypto";
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
import { join, relative } from "node:path";
import { afterAll, afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import { runCommand } from "../../src/command-line/run-command.js";
import { readStudy } from "../../src/records/files/read-study.js";
import { animalsCsv, settings, weighingsCsv } from "../records/small-study.js";

/**
 * Outputs are sent to where the records lie: into the study's folder, into a folder of
 * records inside it, onto a table, through links that lead back, under the name of a table
 * in other letters, with a list that claims the records. Whatever is written or refused,
 * every record is as it was and is read as before, and what is refused leaves no trace.
 */
const made: string[] = [];
let study: string;
beforeEach(() => {
  study = mkdtempSync(join(tmpdir(), "gramline-into-"));
  made.push(study);
  mkdirSync(join(study, "2024"));
  const files = { weighings: ["weighings.csv", "2024/weighings.csv"] };
  writeFileSync(join(study, "study.json"), JSON.stringify({ ...settings, files }));
  writeFileSync(join(study, "animals.csv"), animalsCsv);
  writeFileSync(join(study, "weighings.csv"), weighingsCsv);
  const [head, ...rows] = weighingsCsv.trim().split("\n");
  const earlier = rows.map((row) => row.replace("2025-", "2024-"));
  writeFileSync(join(study, "2024", "weighings.csv"), `${[head, ...earlier].join("\n")}\n`);
  symlinkSync("2024", join(study, "linked"));
  symlinkSync(".", join(study, "itself"));
  symlinkSync("round", join(study, "round"));
});
afterEach(() => {
  vi.restoreAllMocks();
  process.exitCode = undefined;
});
afterAll(() => {
  for (const folder of made) rmSync(folder, { recursive: true, force: true });
});

async function run(args: readonly string[]): Promise<{ code: number; err: string }> {
  let err = "";
  vi.spyOn(console, "log").mockImplementation(() => {});
  vi.spyOn(console, "error").mockImplementation((text = "") => {
    err += `${text}\n`;
  });
  const keep = (text: string | Uint8Array) => {
    err += String(text);
    return true;
  };
  vi.spyOn(process.stdout, "write").mockImplementation(() => true);
  vi.spyOn(process.stderr, "write").mockImplementation(keep);
  const code = await runCommand(args);
  vi.restoreAllMocks();
  process.exitCode = undefined;
  return { code, err };
}

/** Digest of every file of the study, by path; links are not followed. */
function digests(): Map<string, string> {
  return new Map(
    readdirSync(study, { recursive: true, withFileTypes: true })
      .filter((entry) => entry.isFile())
      .map((entry) => {
        const path = join(entry.parentPath, entry.name);
        const digest = createHash("sha256").update(readFileSync(path)).digest("hex");
        return [relative(study, path), digest] as const;
      }),
  );
}

type Words = (folder: string) => string[];
const intoFolder: Readonly<Record<string, Words>> = {
  check: (folder) => ["check", study, "--out", folder],
  report: (folder) => ["report", study, "--out", folder, "--date", "2025-04-01"],
  day: (folder) => ["day", study, "--out", join(folder, "day.html")],
  "hand-over": (folder) => ["hand-over", study, "--out", join(folder, "hand-over.html")],
  "day onto a table": (folder) => ["day", study, "--out", join(folder, "weighings.csv")],
  "day onto a table in capitals": (folder) => [
    "day",
    study,
    "--out",
    join(folder, "Weighings.CSV"),
  ],
  "day onto the folder": (folder) => ["day", study, "--out", folder],
  "hand-over, its sheet onto a table": (folder) => [
    ...["hand-over", study, "--out", join(folder, "h.html")],
    ...["--sheet", join(folder, "weighings.csv")],
  ],
  new: (folder) => ["new", folder, "--zone", "UTC"],
};
const folders = [".", "2024", "linked", "itself", "round", "weighings.csv", "out"];

// The others by `npm run attack`: most of them go through the same few doors.
const isWhole = process.env["ATTACKS"] === "all";
const commands = isWhole ? Object.keys(intoFolder) : ["check", "day", "day onto a table", "new"];
describe.each(commands)("%s", (name) => {
  it.each(isWhole ? folders : ["2024", "itself", "weighings.csv"])("into %s", async (folder) => {
    const before = digests();
    const counts = (await readStudy(study)).counts;
    expect(counts.filter((c) => c.table === "weighings")).toHaveLength(2);
    const { code, err } = await run(intoFolder[name]!(join(study, folder)));
    const after = digests();
    for (const [path, digest] of before) expect(after.get(path), path).toBe(digest);
    expect((await readStudy(study)).counts).toEqual(counts);
    if (code < 2) return;
    expect(code, err).toBe(2);
    expect(err).toMatch(/needed .* but /s);
    if (name.startsWith("hand-over, its sheet")) return;
    expect([...after.keys()].sort()).toEqual([...before.keys()].sort());
  });
});

it("a list that claims the records takes none of them away", async () => {
  const sets = Object.fromEntries(
    ["day", "check", "report", "notebooks", "hand-over", "feeding-sheet", "prior"].map((set) => [
      set,
      ["weighings.csv", "animals.csv", "study.json"],
    ]),
  );
  writeFileSync(join(study, ".written-by-gramline.json"), JSON.stringify({ sets }));
  const before = digests();
  for (const words of [intoFolder["day"]!, intoFolder["hand-over"]!, intoFolder["check"]!])
    await run(words(study));
  const after = digests();
  for (const path of ["weighings.csv", "animals.csv", "study.json"])
    expect(after.get(path), path).toBe(before.get(path));
});

it("nothing typed is no folder", async () => {
  for (const words of [
    ["day", study, "--out", ""],
    ["check", study, "--out", " "],
    ["report", study, "--out", ""],
    ["hand-over", study, "--sheet", ""],
    ["prior", study, "--out", ""],
    ["run-notebooks", "--study", study, "--out", ""],
    ["new", ""],
  ]) {
    const { code, err } = await run(words);
    expect(code, words.join(" ")).toBe(2);
    expect(err).toMatch(/needed something written here, but "\s*" was given/);
  }
  expect(existsSync(join(process.cwd(), "problems.csv"))).toBe(false);
});
