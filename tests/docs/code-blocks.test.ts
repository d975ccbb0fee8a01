import { mkdirSync, mkdtempSync, rmSync, symlinkSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import ts from "typescript";
import { afterAll, beforeAll, describe, expect, it, vi } from "vitest";
import { everyCommand, runCommand } from "../../src/command-line/run-command.js";
import { tableColumns, tableNames } from "../../src/records/columns.js";
import { parseStudy } from "../../src/records/parse-study.js";
import { readSettings, settingNames } from "../../src/records/settings.js";
import { profileOf } from "../../src/species/profile-of.js";
import { ownCache } from "../cache/own-cache.js";
import { type CodeBlock, codeBlocks, commandLines, papers, root, shellWords } from "./papers.js";

// As for a user: what one block or line worked out of a study, the next goes on from.
ownCache();

const blocks = papers.flatMap((paper) => codeBlocks(paper));
const inLanguage = (language: string) => blocks.filter((block) => block.language === language);
const where = (block: CodeBlock) => `${block.paper}:${block.line}`;

describe("the code blocks of every paper", () => {
  it("are in languages that a test here runs", () => {
    // SQL is run by archive-page.test.ts, where the engine is installed.
    const known = ["ts", "json", "csv", "sh", "sql"];
    expect(blocks.filter((block) => !known.includes(block.language)).map(where)).toEqual([]);
    for (const language of known) expect(inLanguage(language).length).toBeGreaterThan(0);
  });

  it("ts: compile in strict mode against the public declarations, run, and print what they say", async () => {
    mkdirSync(join(root, "out"), { recursive: true });
    const folder = mkdtempSync(join(root, "out", "blocks-"));
    try {
      const files = inLanguage("ts").map((block, i) => {
        const path = join(folder, `block-${i}.ts`);
        writeFileSync(path, `export {};\n${block.text}\n`);
        return { block, path };
      });
      expect(typeFaults(files.map((each) => each.path))).toEqual([]);
      for (const { block, path } of files) {
        // The sources in place of the build: what runs here is loaded already.
        const entry = JSON.stringify(join(root, "src", "index.js"));
        writeFileSync(path, block.text.replaceAll('from "gramline"', `from ${entry}`));
        const said = await keepingWords(() => import(pathToFileURL(path).href));
        const lines = said.trimEnd().split("\n");
        expect([where(block), lines]).toEqual([where(block), stated(block.text) ?? lines]);
      }
    } finally {
      rmSync(folder, { recursive: true, force: true });
    }
  }, 240_000);

  it("json: is read as a study's settings, or as entries of a species, without a notice", () => {
    for (const block of inLanguage("json")) {
      const text = block.text.trim().startsWith("{") ? block.text : `{${block.text}}`;
      const value = JSON.parse(text) as Record<string, unknown>;
      const ofStudy = Object.keys(value).every((key) => settingNames.includes(key));
      const notices = ofStudy
        ? readSettings(JSON.stringify({ zone: "UTC", feeding_day_start_hour: 6, ...value })).notices
        : profileOf("sea otter", { "sea otter": value }).notices.filter(
            (n) => n.code !== "species-overridden",
          );
      expect([where(block), notices]).toEqual([where(block), []]);
    }
  });

  it("csv: is read whole as the table whose columns it has", () => {
    for (const block of inLanguage("csv")) {
      const heads = block.text.split("\n")[0]!.split(",");
      const table = tableNames.find((name) =>
        heads.every((head) => tableColumns[name].some((column) => column.name === head)),
      );
      if (table === undefined) throw new Error(`${where(block)} has the columns of no table`);
      const files = { animals, weighings, [table]: block.text };
      const study = parseStudy(
        Object.entries({ ...asCsv(files), "study.json": '{ "zone": "America/Los_Angeles" }' }).map(
          ([path, text]) => ({ path, bytes: new TextEncoder().encode(text) }),
        ),
      );
      const count = study.counts.find((each) => each.table === table);
      expect([where(block), study.setAside]).toEqual([where(block), []]);
      expect(count?.accepted).toBe(block.text.trim().split("\n").length - 1);
    }
  });
});

describe("the commands that papers name", () => {
  const work = mkdtempSync(join(tmpdir(), "gramline-docs-"));
  const home = process.cwd();
  beforeAll(async () => {
    // As after a clone: the project, and the study beside it.
    mkdirSync(join(work, "gramline"));
    symlinkSync(join(root, "data-demo"), join(work, "gramline", "data-demo"));
    process.chdir(join(work, "gramline"));
    await quietly(["new", "../my-nursery", "--zone", "America/Los_Angeles"]);
    for (const [name, text] of Object.entries(asCsv({ animals, weighings })))
      writeFileSync(join(work, "my-nursery", name), text);
    rmSync(join(work, "my-nursery", "records.xlsx"));
  });
  afterAll(() => {
    process.chdir(home);
    rmSync(work, { recursive: true, force: true });
  });

  it("are there, with the options that are named", () => {
    const { commands } = everyCommand();
    const wrong = papers
      .flatMap((paper) => commandLines(paper).map((line) => [paper, line] as const))
      .flatMap(([paper, line]) => {
        const words = shellWords(line.replace(/^(npx )?gramline /, ""));
        let command = commands.find((each) => each.name() === words[0]);
        // A command may have commands of its own, each with options of its own.
        const inner = command?.commands.find((each) => each.name() === words[1]);
        if (inner !== undefined) command = inner;
        const options = words.filter((word) => /^--[a-z]/.test(word) && word !== "--help");
        const unknown = options.filter((each) => command?.options.every((o) => o.long !== each));
        return command === undefined || unknown.length > 0 ? [`${paper}: ${line}`] : [];
      });
    expect(wrong).toEqual([]);
  });

  it("sh: every line does what it is there for", async () => {
    const seen = new Set<string>();
    for (const block of inLanguage("sh")) {
      for (const line of block.text.split("\n").map((each) => each.replace(/(^|\s+)#.*$/, ""))) {
        if (line.trim() === "" || seen.has(line) || runElsewhere.some((each) => each.test(line)))
          continue;
        seen.add(line);
        const words = shellWords(line);
        expect([where(block), words.slice(0, 2)]).toEqual([where(block), ["npx", "gramline"]]);
        if (words[2] === "new") words[3] = `${words[3]}-${seen.size}`;
        const { code, said } = await quietly(words.slice(2));
        expect([where(block), line, code, code === 0 ? "" : said]).toEqual([
          where(block),
          line,
          0,
          "",
        ]);
      }
    }
    expect(seen.size).toBeGreaterThan(4);
  }, 240_000);
});

/** Lines that last, or need kernels, and where they are run. */
const runElsewhere: readonly RegExp[] = [
  /^npm (start|test)\b/, // .ci/run
  /^npm run [a-z:-]+/, // papers.test.ts holds that the script is there; .ci/run runs them
  /^npx gramline (run-notebooks|notebooks) /, // tests/command-line/notebooks and .ci/run
  /^npx gramline watch /, // tests/command-line/watch.test.ts
  /^npx gramline (archive|pool) /, // archive-page.test.ts, which needs an optional package
  /^jupyter /, // .ci/run
  /^export JUPYTER_PATH=/, // .ci/run
  /^npm install /, // .ci/package.mjs
];

const names = [
  "Bramblewick",
  "Thornapple",
  "Wimbery",
  "Saltcress",
  "Oddlemop",
  "Quillfin",
  "Pebblo",
  "Marrick",
];
const animals = `animal_id,name,species,sex,birth_date_earliest,birth_date_latest,birth_date_basis,admitted_at,season,outcome
${names
  .map((name, i) =>
    [
      `P${i + 1}`,
      name,
      "sea otter,female,2026-03-01,2026-03-03,umbilicus,2026-03-05 14:10,2026,in care",
    ].join(","),
  )
  .join("\n")}
`;
const weighings = `animal_id,at,mass_g,tare_g,scale_id,method,coat,meal
${names
  .flatMap((_, i) =>
    Array.from({ length: 20 }, (__, day) =>
      [
        `P${i + 1}`,
        `2026-03-${String(day + 5).padStart(2, "0")} 16:05`,
        `${2400 + 30 * i + (36 + i) * day}`,
        "436,bench,bucket,dry,before",
      ].join(","),
    ),
  )
  .join("\n")}
`;
const asCsv = (tables: Readonly<Record<string, string>>) =>
  Object.fromEntries(Object.entries(tables).map(([name, text]) => [`${name}.csv`, text]));

/** Runs a command in this process and keeps what it says. */
async function quietly(args: readonly string[]): Promise<{ code: number; said: string }> {
  let code = 0;
  const said = await keepingWords(async () => {
    code = await runCommand(args);
  });
  process.exitCode = undefined;
  return { code, said };
}

/** What is printed while something runs, by whichever way. */
async function keepingWords(work: () => Promise<unknown>): Promise<string> {
  let said = "";
  const keep = (...words: unknown[]) => {
    said += `${words.join(" ")}\n`;
    return true;
  };
  vi.spyOn(console, "log").mockImplementation(keep);
  vi.spyOn(console, "error").mockImplementation(keep);
  vi.spyOn(process.stdout, "write").mockImplementation(keep as typeof process.stdout.write);
  vi.spyOn(process.stderr, "write").mockImplementation(keep as typeof process.stderr.write);
  try {
    await work();
  } finally {
    vi.restoreAllMocks();
  }
  return said;
}

function typeFaults(paths: readonly string[]): string[] {
  const program = ts.createProgram([...paths], {
    strict: true,
    noEmit: true,
    skipLibCheck: true,
    target: ts.ScriptTarget.ES2022,
    module: ts.ModuleKind.NodeNext,
    moduleResolution: ts.ModuleResolutionKind.NodeNext,
    types: ["node"],
  });
  return ts
    .getPreEmitDiagnostics(program)
    .map(
      (d) => `${d.file?.fileName ?? ""}: ${ts.flattenDiagnosticMessageText(d.messageText, "\n")}`,
    );
}

/** What a block says that it prints: a comment at the end of each `console.log`; null where it says nothing. */
function stated(text: string): string[] | null {
  const comments = [...text.matchAll(/^\s*console\.log\(.*\);? \/\/ (.*)$/gm)].map((m) => m[1]!);
  return comments.length === 0 ? null : comments;
}
