import { join, relative, resolve } from "node:path";
import type { Command } from "commander";
import {
  type AnsweringOptions,
  answering,
  progressLine,
  progressOf,
  sayAnswer,
} from "./answering.js";
import { cached } from "./cache-command.js";
import { agesBetween, civilDay, wholeNumber } from "./option-values.js";
import { today } from "./today.js";

interface ReportOptions extends AnsweringOptions {
  readonly out: string;
  readonly date?: string;
  readonly on?: string;
  readonly ages?: string;
  readonly seed: string;
  readonly withoutPeople: boolean;
  readonly pdf: boolean;
}

/** `gramline report FOLDER`: the husbandry report. Options are looked at before any work. */
export function reportCommand(program: Command): void {
  cached(answering(program.command("report")))
    .description(
      "write the husbandry report of a study folder: page, Word, sheets, a page per animal",
    )
    .argument("<folder>", "folder with study.json and the tables")
    .option("--out <folder>", "where the files go", join("out", "report"))
    .option("--date <date>", "date of the report, YYYY-MM-DD (default: today)")
    .option(
      "--on <day>",
      "last feeding day to look at (default: the last on which rows stand together, not after the clock)",
    )
    .option(
      "--ages <from-to>",
      "ages in days between which seasons are compared (default: by species)",
    )
    .option("--seed <number>", "seed of everything drawn at random", "1")
    .option(
      "--without-people",
      "write only what names nobody: no notes, names, permit numbers or file names",
      false,
    )
    .option("--pdf", "print the page to report.pdf as well, with Chromium, Chrome or Edge", false)
    .action(async (folder: string, options: ReportOptions) => {
      const out = resolve(options.out);
      const chosen = {
        out,
        date: options.date === undefined ? today() : civilDay("--date", options.date),
        ...(options.ages === undefined ? {} : { ages: agesText(options.ages) }),
        seed: wholeNumber("--seed", options.seed),
        withoutPeople: options.withoutPeople,
        now: Date.now(),
        ...(options.on === undefined ? {} : { onDay: civilDay("--on", options.on) }),
      };
      const { writeReport } = await import("../publish/write-report.js");
      const line = progressLine(options);
      const written = await writeReport(folder, { ...chosen, onProgress: progressOf(line) });
      if (options.pdf) {
        line.show("printing report.pdf");
        const { printPdf } = await import("../publish/print-pdf.js");
        await printPdf(join(out, written.folder, "report.html"), join(out, "report.pdf"));
      }
      line.end();
      const { files, animals, decisions } = written;
      const open = relative(process.cwd(), join(out, written.open));
      sayAnswer(options, { kind: "report", open, files, animals, decisions }, [
        ...decisions,
        `${files.length} files; animals: ${animals}.`,
        `Open ${open}`,
      ]);
    });
}

/** Ages that are none are refused here, before anything is read. */
function agesText(ages: string): string {
  const { fromAgeD, toAgeD } = agesBetween("--ages", ages);
  return `${fromAgeD}-${toAgeD}`;
}
