import { join, relative, resolve } from "node:path";
import type { Command } from "commander";
import { askRecords } from "../analysis/ask-records.js";
import { leaveOutPeople } from "../analysis/leave-out-people.js";
import { noticeText } from "../core/catalogue.js";
import type { LongWork } from "../core/long-work.js";
import { UsageError } from "../core/usage-error.js";
import { aloneIn } from "../publish/folder-lock.js";
import { writeSet } from "../publish/write-set.js";
import { cannotWrite } from "../publish/write-whole.js";
import { filesOfStudy, readFolder } from "../records/files/read-study.js";
import { saveMapping } from "../records/files/save-mapping.js";
import { parseStudy, type StudyInput } from "../records/parse-study.js";
import { proposeForStudy, type StudyProposal } from "../records/propose-for-study.js";
import type { Study } from "../records/study.js";
import { summariseStudy } from "../records/summarise-study.js";
import { csvText } from "../report/renderers/sheet/csv-text.js";
import { sheetCells } from "../report/renderers/sheet/sheet-cells.js";
import { workbook } from "../report/renderers/sheet/workbook.js";
import { screenWording } from "../units/format.js";
import { localText } from "../units/format-date.js";
import { type AnsweringOptions, answering, progressLine, progressOf } from "./answering.js";
import { proposalLines } from "./check-proposals.js";
import { decisionsToMake, doubtedFeedsOf, problemsTable, slipsOf } from "./check-tables.js";
import { checkText } from "./check-text.js";
import { exitCodes } from "./exit-codes.js";
import { inLine, jsonOnScreen, onScreen, withoutLongQuotes } from "./on-screen.js";
import { studyWithQuestions } from "./study-with-questions.js";
import { today } from "./today.js";
import { wrapText } from "./wrap-text.js";

export interface CheckOptions extends Pick<LongWork, "onProgress"> {
  /** Where the full lists go; null: write nothing. */
  readonly out: string | null;
  readonly json: boolean;
  /** Write what is proposed (layouts, columns, names) into study.json. */
  readonly saveMapping: boolean;
  /** Say and list only what names nobody. Default false. */
  readonly withoutPeople?: boolean;
  /** Today, for the workbook; the command line alone reads the clock. */
  readonly today: string;
  /** Characters in a line of the terminal. Default 100. */
  readonly width?: number;
  /** The files of the folder and what was read in them. Default: read now. */
  readonly read?: ReadStudy;
}

/** A folder's files, and the study that they are. */
export interface ReadStudy {
  readonly inputs: readonly StudyInput[];
  readonly study: Study;
}

export interface CheckOutcome {
  /** What goes to the screen. */
  readonly text: string;
  /** 0 nothing set aside, 1 rows set aside or slips suspected, 2 the folder cannot be read. */
  readonly exitCode: 0 | 1 | 2;
}

/** Registers `gramline check FOLDER`. */
export function checkCommand(program: Command): void {
  answering(program.command("check"))
    .description("read a study, say on one screen what is in it, and list every problem")
    .argument("<folder>", "the study's folder")
    .option("--out <folder>", "where the full lists go", join("out", "check"))
    .option("--no-write", "write no lists")
    .option("--save-mapping", "write what is proposed into study.json", false)
    .option(
      "--without-people",
      "say and list only what names nobody: no cells, no ids that are names, no decisions to make",
      false,
    )
    .addHelpText(
      "after",
      "\nExit code: 0 all rows accepted, 1 rows set aside or slips suspected, 2 not readable.",
    )
    .action(async (folder: string, options: CommandOptions) => {
      const line = progressLine(options);
      const outcome = await runCheck(folder, {
        onProgress: progressOf(line),
        out: options.write ? options.out : null,
        json: options.json,
        saveMapping: options.saveMapping,
        withoutPeople: options.withoutPeople,
        today: today(),
        width: process.stdout.columns ?? 100,
      });
      line.end();
      const { text, exitCode } = outcome;
      const stream = exitCode === exitCodes.notDone && !options.json ? "stderr" : "stdout";
      if (!options.quiet || stream === "stderr")
        process[stream].write(`${options.json ? jsonOnScreen(text) : onScreen(text)}\n`);
      process.exitCode = outcome.exitCode;
    });
}

interface CommandOptions extends AnsweringOptions {
  readonly out: string;
  readonly write: boolean;
  readonly saveMapping: boolean;
  readonly withoutPeople: boolean;
}

/** Writes what is proposed into study.json, alone: of two runs neither takes back what the other wrote. */
async function savedInto(folder: string): Promise<string[]> {
  // A folder that is not there is not made for the lock.
  await filesOfStudy(folder);
  return aloneIn(folder, async () =>
    saveMapping(folder, proposeForStudy(await readFolder(folder))),
  ).catch((error) => {
    throw cannotWrite(join(folder, "study.json"), error);
  });
}

/** Checks a study's folder and writes the full lists. Never throws for a user's mistake. */
export async function runCheck(folder: string, options: CheckOptions): Promise<CheckOutcome> {
  let saved: string[] | null = null;
  try {
    if (options.saveMapping && options.withoutPeople) throw notBoth();
    if (options.saveMapping) saved = await savedInto(folder);
    return await check(folder, options, saved);
  } catch (error) {
    if (!(error instanceof UsageError)) throw error;
    const { needed, came, where, todo, message } = error;
    const proposals = options.withoutPeople ? nothingProposed : await proposalsFor(folder);
    if (options.json) {
      const json = {
        kind: "check",
        schema: 1,
        readable: false,
        needed,
        came,
        where,
        todo,
        proposals,
        saved,
      };
      return { text: JSON.stringify(json), exitCode: 2 };
    }
    const some = proposals.tables.length + proposals.names.length > 0;
    const lines = [
      ...(saved ?? []).map((line) => `written into study.json: ${inLine(line)}`),
      `gramline: ${withoutLongQuotes(message)}`,
      ...proposalLines(proposals, screenWording("UTC")),
      ...(some
        ? [
            "",
            `What to do first: look the proposals over; to agree: gramline check ${inLine(folder)} --save-mapping`,
          ]
        : []),
    ];
    const text = lines.flatMap((line) => wrapText(line, options.width ?? 100)).join("\n");
    return { text, exitCode: 2 };
  }
}

/** Names of files and columns, and names of animals: nobody can vouch for them. */
const nothingProposed: StudyProposal = { tables: [], names: [] };

function notBoth(): UsageError {
  return new UsageError({
    needed: "either --save-mapping or --without-people",
    came: "both were given, and what is proposed repeats names of files and columns",
    where: "gramline check",
    todo: "Run it twice. Nothing was written.",
  });
}

/** What files may mean; nothing where the folder itself cannot be read. */
async function proposalsFor(folder: string): Promise<StudyProposal> {
  try {
    return proposeForStudy(await readFolder(folder));
  } catch (error) {
    if (error instanceof UsageError) return nothingProposed;
    throw error;
  }
}

/** The study, and what its files may mean; of a long one the files themselves are let go of here. */
async function readAndProposed(folder: string, options: CheckOptions) {
  const inputs = options.read?.inputs ?? (await readFolder(folder));
  const read = options.read?.study ?? parseStudy(inputs, options);
  return options.withoutPeople
    ? { parsed: leaveOutPeople(read), proposals: nothingProposed }
    : { parsed: read, proposals: proposeForStudy(inputs) };
}

async function check(
  folder: string,
  options: CheckOptions,
  saved: readonly string[] | null,
): Promise<CheckOutcome> {
  const quiet = options.withoutPeople ?? false;
  const { parsed, proposals } = await readAndProposed(folder, options);
  options.onProgress?.({ done: 1, total: 2, doing: "looking for slips of the pen" });
  const { series } = askRecords(parsed, { feeds: "doubted or noted" }).value;
  const study = studyWithQuestions(parsed, series);
  const summary = summariseStudy(study);
  const wording = screenWording(study.settings.zone);
  const slips = slipsOf(series);
  const feeds = doubtedFeedsOf(series);
  const written: string[] = [];
  if (options.out !== null) {
    const out = resolve(options.out);
    const files = new Map<string, string | Uint8Array>();
    const save = (name: string, content: string | Uint8Array) => {
      files.set(name, content);
      written.push(join(relative(process.cwd(), out) || ".", name));
    };
    const tables = problemsTable(study, series, wording);
    save("problems.csv", csvText(sheetCells(tables[0]!)));
    save(
      "problems.xlsx",
      workbook(tables, { title: `Check of ${summary.title}`, date: options.today, wording }),
    );
    // Decisions name animals as the tables do; under numbers they would meet no row.
    if (slips.length + feeds.length > 0 && !quiet)
      save("decisions-to-make.csv", csvText(decisionsToMake(slips, feeds, study.settings.zone)));
    await writeSet(out, "check", files);
  }
  const exitCode = summary.setAside + slips.length + feeds.length > 0 ? 1 : 0;
  if (!options.json) {
    const width = Math.max(40, options.width ?? 100);
    const doubts = { slips, feeds, decisions: series.notices };
    const shown = { study, summary, ...doubts, proposals, folder, wording, written, saved, width };
    return { text: checkText(shown), exitCode };
  }
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
    suspectedFeeds: feeds.map(({ animalId, feed }) => ({
      animalId,
      at: localText(feed.row.at, study.settings.zone),
      offeredG: feed.row.offeredG,
      origin: feed.row.origin,
      slip: feed.slip,
      text: noticeText(feed.slip!.why, wording),
    })),
    decisions: series.notices.map((n) => noticeText(n, wording)),
    proposals,
    saved,
    written,
  };
  return { text: JSON.stringify(json, null, 2), exitCode };
}
