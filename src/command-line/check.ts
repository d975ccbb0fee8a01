import { mkdir } from "node:fs/promises";
import { join, relative, resolve } from "node:path";
import type { Command } from "commander";
import { noticeText } from "../core/catalogue.js";
import { UsageError } from "../core/usage-error.js";
import { readFolder, readStudy } from "../records/files/read-study.js";
import { saveMapping } from "../records/files/save-mapping.js";
import { writeAtomically } from "../records/files/write-atomically.js";
import { proposeForStudy } from "../records/propose-for-study.js";
import type { TableProposal } from "../records/propose-mapping.js";
import { summariseStudy } from "../records/summarise-study.js";
import { csvText } from "../report/renderers/sheet/csv-text.js";
import { sheetCells } from "../report/renderers/sheet/sheet-cells.js";
import { workbook } from "../report/renderers/sheet/workbook.js";
import { buildSeries } from "../series/build-series.js";
import { localText, screenWording } from "../units/format.js";
import { decisionsToMake, problemsTable, slipsOf } from "./check-tables.js";
import { checkText, proposalLines } from "./check-text.js";

export interface CheckOptions {
  /** Where the full lists go; null: write nothing. */
  readonly out: string | null;
  readonly json: boolean;
  /** Write proposed column names into study.json. */
  readonly saveMapping: boolean;
  /** Today, for the workbook; the command line alone reads the clock. */
  readonly today: string;
}

export interface CheckOutcome {
  /** What goes to the screen. */
  readonly text: string;
  /** 0 nothing set aside, 1 rows set aside or slips suspected, 2 the folder cannot be read. */
  readonly exitCode: 0 | 1 | 2;
}

/** Registers `gramline check FOLDER`. */
export function checkCommand(program: Command): void {
  program
    .command("check")
    .description("read a study, say on one screen what is in it, and list every problem")
    .argument("<folder>", "the study's folder")
    .option("--out <folder>", "where the full lists go", join("out", "check"))
    .option("--no-write", "write no lists")
    .option("--json", "print the result as JSON", false)
    .option("--save-mapping", "write proposed column names into study.json", false)
    .addHelpText(
      "after",
      "\nExit code: 0 all rows accepted, 1 rows set aside or slips suspected, 2 not readable.",
    )
    .action(async (folder: string, options: CommandOptions) => {
      const outcome = await runCheck(folder, {
        out: options.write ? options.out : null,
        json: options.json,
        saveMapping: options.saveMapping,
        today: new Date().toISOString().slice(0, 10),
      });
      (outcome.exitCode === 2 ? process.stderr : process.stdout).write(`${outcome.text}\n`);
      process.exitCode = outcome.exitCode;
    });
}

interface CommandOptions {
  readonly out: string;
  readonly write: boolean;
  readonly json: boolean;
  readonly saveMapping: boolean;
}

/** Checks a study's folder and writes the full lists. Never throws for a user's mistake. */
export async function runCheck(folder: string, options: CheckOptions): Promise<CheckOutcome> {
  try {
    if (options.saveMapping) await saveMapping(folder, proposeForStudy(await readFolder(folder)));
    return await check(folder, options);
  } catch (error) {
    if (!(error instanceof UsageError)) throw error;
    const { needed, came, where, todo, message } = error;
    const proposals = await proposalsFor(folder);
    const text = options.json
      ? JSON.stringify({ kind: "check", readable: false, needed, came, where, todo, proposals })
      : [`gramline: ${message}`, ...proposalLines(proposals, folder)].join("\n");
    return { text, exitCode: 2 };
  }
}

/** What unknown files and columns may be; nothing where the folder itself cannot be read. */
async function proposalsFor(folder: string): Promise<TableProposal[]> {
  try {
    return proposeForStudy(await readFolder(folder));
  } catch (error) {
    if (error instanceof UsageError) return [];
    throw error;
  }
}

async function check(folder: string, options: CheckOptions): Promise<CheckOutcome> {
  const study = await readStudy(folder);
  const series = buildSeries(study);
  const wording = screenWording(study.settings.zone);
  const summary = summariseStudy(study);
  const slips = slipsOf(series);
  const written: string[] = [];
  if (options.out !== null) {
    const out = resolve(options.out);
    await mkdir(out, { recursive: true });
    const save = async (name: string, content: string | Uint8Array) => {
      await writeAtomically(join(out, name), content);
      written.push(join(relative(process.cwd(), out) || ".", name));
    };
    const tables = problemsTable(study, series, wording);
    await save("problems.csv", csvText(sheetCells(tables[0]!)));
    await save(
      "problems.xlsx",
      workbook(tables, { title: `Check of ${summary.title}`, date: options.today, wording }),
    );
    if (slips.length > 0)
      await save("decisions-to-make.csv", csvText(decisionsToMake(slips, study.settings.zone)));
  }
  const exitCode = summary.setAside > 0 || slips.length > 0 ? 1 : 0;
  if (!options.json) return { text: checkText(study, summary, slips, wording, written), exitCode };
  const { firstSetAside: _, ...counts } = summary;
  const json = {
    kind: "check",
    schema: 1,
    readable: true,
    ...counts,
    columns: study.columns ?? [],
    setAsideRows: study.setAside.map((row) => ({
      ...row,
      reasonText: noticeText(row.reason, wording),
      suggestionText: noticeText(row.suggestion, wording),
    })),
    suspectedSlips: slips.map(({ animalId, weighing }) => ({
      animalId,
      at: localText(weighing.row.at, study.settings.zone),
      massG: weighing.row.massG,
      origin: weighing.row.origin,
      slip: weighing.slip,
      text: noticeText(weighing.why, wording),
    })),
    written,
  };
  return { text: JSON.stringify(json, null, 2), exitCode };
}
