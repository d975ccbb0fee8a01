import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, relative } from "node:path";
import { fileURLToPath } from "node:url";
import type { Command } from "commander";
import { afterAll, beforeAll, describe, expect, it, vi } from "vitest";
import { loadEngine, quoted } from "../../src/archive/load-engine.js";
import { runCheck } from "../../src/command-line/check.js";
import { everyCommand, runCommand } from "../../src/command-line/run-command.js";
import { watchStudy } from "../../src/command-line/watch-study.js";
import { findBrowser } from "../../src/publish/print-pdf.js";
import { pdfSet, writeSet } from "../../src/publish/write-set.js";
import { leaveNothingBehind } from "./after-commands.js";
import { textsOf } from "./every-text.js";
import { csvStudy, planted, workbookStudy } from "./planted-study.js";

/**
 * A person's name is planted in every cell of every table, in file names, sheet
 * names and every text of study.json; none of its bytes may leave with an export
 * without people, whether the row was accepted or set aside.
 */
const isWhole = process.env["ATTACKS"] === "all";
const isBuilt = existsSync(fileURLToPath(new URL("../../dist/index.js", import.meta.url)));

let work: string;
beforeAll(() => {
  work = mkdtempSync(join(tmpdir(), "gramline-people-"));
});
afterAll(() => rmSync(work, { recursive: true, force: true }));
leaveNothingBehind();

const holds = (text: string) => text.toLowerCase().includes(planted.toLowerCase());
const finds = (folder: string) =>
  textsOf(folder).flatMap(([name, text]) => (holds(text) ? [name] : []));

const engine = await loadEngine().catch(() => null);
const needsEngine = (name: string) => name.startsWith("archive ");
afterAll(() => engine?.close());

/** Files of an archive are packed: the engine that wrote them unpacks them. */
async function findsInParquet(folder: string): Promise<string[]> {
  if (engine === null) return [];
  const found: string[] = [];
  for (const entry of readdirSync(folder, { recursive: true, withFileTypes: true })) {
    if (!entry.name.endsWith(".parquet")) continue;
    const path = join(entry.parentPath, entry.name);
    const rows = await engine.rows(`SELECT * FROM read_parquet(${quoted(path)})`);
    if (holds(JSON.stringify(rows))) found.push(path);
  }
  return found;
}

/** Runs a command and keeps what it prints. */
async function run(args: readonly string[]): Promise<{ code: number; said: string }> {
  let said = "";
  const keep = (text: unknown = "") => {
    said += `${text}\n`;
    return true;
  };
  vi.spyOn(console, "log").mockImplementation(keep);
  vi.spyOn(process.stdout, "write").mockImplementation(keep);
  const code = await runCommand(args);
  vi.restoreAllMocks();
  process.exitCode = undefined;
  return { code, said };
}

/** Commands that write something of a study, as they are asked to leave people out. */
const writing: Readonly<Record<string, (study: string, out: string) => string[]>> = {
  check: (study, out) => ["check", study, "--out", join(out, "check")],
  day: (study, out) => ["day", study, "--out", join(out, "pages", "day.html")],
  "hand-over": (study, out) => ["hand-over", study, "--out", join(out, "pages", "hand-over.html")],
  report: (study, out) => [
    ...["report", study, "--out", join(out, "report"), "--date", "2026-01-31"],
    ...(isWhole && findBrowser() !== null ? ["--pdf"] : []),
  ],
  prior: (study, out) => [
    "prior",
    study,
    "--species",
    "sea otter",
    "--out",
    join(out, "prior.json"),
  ],
  "archive add": (study, out) => [
    ...["archive", "add", study, "--to", join(out, "archive"), "--facility", "north-house"],
  ],
  "run-notebooks": (study, out) => [
    ...["run-notebooks", "--study", study, "--out", join(out, "notebooks")],
    ...(isWhole ? [] : ["start-here"]),
  ],
};
/** Those that leave people out unasked. */
const always = ["prior", "archive add"];
/** How they are asked to keep people, where they must be asked for that. */
const withPeople: Readonly<Record<string, string[]>> = { "archive add": ["--with-people"] };

/** Commands that write nothing of a study, and why. */
const others: Readonly<Record<string, string>> = {
  new: "makes an empty study of what is typed",
  notebooks: "opens Jupyter",
  "kernel-path": "describes the kernel",
  doctor: "looks at the machine",
  "cache show": "counts what is kept for this user alone",
  "cache clear": "takes away",
  "archive check": "counts what archive add wrote",
  "archive list": "shows what archive add wrote",
  "archive remove": "takes away",
  pool: "reads an archive alone, which holds nobody unless asked, and writes figures of houses",
  explain: "says what a word means",
  watch: "writes nothing; its pages and its screen are looked at here",
};

/** Every command by its whole name, those inside another included. */
function namesOf(command: Command, before = ""): string[] {
  return command.commands.flatMap((each) => {
    const name = `${before}${each.name()}`;
    return each.commands.length === 0 ? [name] : namesOf(each, `${name} `);
  });
}

describe("a name planted in every cell, file name, sheet name and setting", () => {
  it("is looked for in what every command writes", () => {
    expect(namesOf(everyCommand()).sort()).toEqual(
      [...Object.keys(writing), ...Object.keys(others)].sort(),
    );
  });

  // The workbook takes as long again: by `ATTACKS=all`, as `npm run attack` does.
  const ways = [["CSV files", csvStudy] as const, ["a workbook", workbookStudy] as const];
  const tried = isWhole ? ways : ways.slice(0, 1);
  it.skipIf(!isBuilt).each(tried)(
    "is in no byte of an export without people: %s",
    async (_, make) => {
      const study = make(work);
      const out = join(study, "out");
      for (const [name, words] of Object.entries(writing)) {
        if (name === "run-notebooks" && !isWhole) continue;
        if (needsEngine(name) && engine === null) continue;
        const more = withPeople[name] ?? [];
        const { code, said } = await run([...words(study, out), ...more, "--json"]);
        expect([0, 1], `${name}: ${said}`).toContain(code);
      }
      // It is there to be found with people, in pages, tables and documents alike.
      const found = [...finds(out), ...(await findsInParquet(out))];
      const kinds = [
        "report.html",
        "tables.xlsx",
        "report.docx",
        "hand-over.html",
        "problems.xlsx",
      ];
      const notebooks = isWhole ? ["start-here.ipynb", "start-here.html"] : [];
      const parquet = engine === null ? [] : [".parquet"];
      for (const part of [...kinds, ...notebooks, ...parquet])
        expect(
          found.some((name) => name.includes(part)),
          part,
        ).toBe(true);
      const pdf = join(out, "report", "report.pdf");
      if (existsSync(pdf)) expect(found).toContain(relative(out, pdf));
      // A PDF printed from the report with people is one of ours and goes with it.
      else
        await writeSet(join(out, "report"), pdfSet, new Map([["report.pdf", `%PDF ${planted}`]]));
      for (const [name, words] of Object.entries(writing)) {
        if (needsEngine(name) && engine === null) continue;
        const flag = always.includes(name) ? [] : ["--without-people"];
        const forms = isWhole ? [[], ["--json"]] : [name === "check" ? ["--json"] : []];
        for (const more of forms) {
          const { code, said } = await run([...words(study, out), ...flag, ...more]);
          expect([0, 1], `${name}: ${said}`).toContain(code);
          expect(holds(said), `${name} prints: ${said}`).toBe(false);
        }
      }
      expect([...finds(out), ...(await findsInParquet(out))]).toEqual([]);
      // What did not run to its end is not written, and holds nothing for that reason alone.
      const shown = textsOf(out).map(([name]) => name);
      expect(shown.some((name) => name.endsWith("start-here.html"))).toBe(true);
      const [folder] = readdirSync(join(out, "report")).filter((name) =>
        name.startsWith("report-"),
      );
      const page = readFileSync(join(out, "report", folder!, "report.html"), "utf8");
      expect(page.includes("texts that nobody can vouch for")).toBe(true);
      if (isWhole && findBrowser() !== null) expect(existsSync(pdf)).toBe(true);
    },
    1_200_000,
  );

  it("is on no page and no screen of a watched study", async () => {
    const study = csvStudy(mkdtempSync(join(work, "watched-")));
    let screens = "";
    const watch = watchStudy(study, {
      withoutPeople: true,
      now: Date.now,
      onMade: async ({ read }) => {
        const how = { out: null, json: false, saveMapping: false, today: "2026-01-31" };
        screens += (await runCheck(study, { ...how, read: read!, withoutPeople: true })).text;
      },
    });
    await watch.look();
    const { pages, trouble } = watch.current();
    expect([pages.size, trouble]).toEqual([3, null]);
    expect(screens).toMatch(/rows = /);
    expect(holds(screens)).toBe(false);
    for (const [name, page] of pages) expect(holds(page), name).toBe(false);
  });
});
