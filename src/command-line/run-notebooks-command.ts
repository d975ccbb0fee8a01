import { existsSync } from "node:fs";
import { join, relative, resolve } from "node:path";
import type { Command } from "commander";
import { sizeLimits } from "../core/size-limits.js";
import { UsageError } from "../core/usage-error.js";
import { nearestFolder } from "../records/files/nearest-folder.js";
import { type AnsweringOptions, answering, progressLine, sayAnswer } from "./answering.js";
import { cached } from "./cache-command.js";
import { exitCodes } from "./exit-codes.js";
import { sayLines, sayWrong } from "./on-screen.js";
import { namedValues, wholeNumber } from "./option-values.js";

interface RunOptions extends AnsweringOptions {
  readonly study?: string;
  readonly notebooks?: string;
  readonly withoutPeople: boolean;
  readonly out: string;
  readonly set?: string[];
  readonly cellSeconds: string;
  readonly notebookSeconds: string;
}

/** `gramline run-notebooks`: every notebook, or those named, as pages to open. */
export function runNotebooksCommand(program: Command, home: string): void {
  cached(answering(program.command("run-notebooks")))
    .description("run every notebook, write executed copies and one page each")
    .argument("[names...]", "only these notebooks")
    .option(
      "--study <folder>",
      "the study they are about (default: the current folder where it holds study.json, else the demo)",
    )
    .option(
      "--notebooks <folder>",
      "folder with the notebooks (default: those of the study, else those that come with gramline)",
    )
    .option(
      "--without-people",
      "write only what names nobody: the notebooks that come with gramline, not the study's copies of them",
      false,
    )
    .option("--out <folder>", "where pages go", "out")
    .option("--set <name=value...>", "values for the cell tagged parameters")
    .option("--cell-seconds <number>", "longest time for one cell", String(sizeLimits.cellSeconds))
    .option(
      "--notebook-seconds <number>",
      "longest time for one notebook, its start included",
      String(sizeLimits.notebookSeconds),
    )
    .action(async (names: string[], options: RunOptions) => {
      const cellSeconds = wholeNumber("--cell-seconds", options.cellSeconds, 1);
      const notebookSeconds = wholeNumber("--notebook-seconds", options.notebookSeconds, 1);
      const values = namedValues("--set", options.set ?? []);
      const study = await studyAskedAbout(options.study ?? values["studyFolder"]);
      // What somebody wrote into their own copies cannot be vouched for.
      const own = study === null || options.withoutPeople ? null : join(study, "notebooks");
      const notebooks = resolve(
        options.notebooks ?? (own !== null && existsSync(own) ? own : join(home, "notebooks")),
      );
      if (values["studyFolder"] !== undefined && study !== null)
        values["studyFolder"] = relative(notebooks, study);
      const archive = values["archiveFolder"];
      if (archive !== undefined && archive !== "null")
        values["archiveFolder"] = relative(notebooks, resolve(archive));
      const { failureText, runNotebooks } = await import("./run-notebooks.js");
      const line = progressLine(options);
      const { outcomes, waiting } = await runNotebooks({
        notebooks,
        // Values that were given stand beside the notebook's own; a study makes it that study's.
        ...(study === null || values["studyFolder"] !== undefined ? {} : { study }),
        home,
        withoutPeople: options.withoutPeople,
        out: resolve(options.out),
        only: names,
        parameters: values,
        cellSeconds,
        notebookSeconds,
        say: (text) => {
          line.end();
          if (!options.json && !options.quiet) sayLines(text);
        },
        onProgress: line.show,
      });
      line.end();
      const failed = outcomes.filter((each) => each.failure !== null);
      const page = relative(process.cwd(), join(resolve(options.out), "index.html"));
      const json = { kind: "run-notebooks", open: page, outcomes, waiting };
      sayAnswer(options, json, failed.length === 0 ? [`\nOpen ${page}`] : []);
      if (failed.length === 0) return;
      process.exitCode = exitCodes.lookAtIt;
      if (options.json) return;
      if (options.quiet)
        for (const each of failed) sayWrong(`${each.name}\n${failureText(each.failure!)}`);
      sayWrong(`\n${failed.length} of ${outcomes.length} notebooks failed; what there is: ${page}`);
    });
}

/**
 * The study, as a path of this command's own folder like every other path that is typed;
 * null for the demo.
 */
async function studyAskedAbout(named: string | undefined): Promise<string | null> {
  const study = resolve(named ?? ".");
  if (existsSync(join(study, "study.json"))) return study;
  if (named === undefined) return null;
  const near = existsSync(study) ? null : await nearestFolder(named);
  throw new UsageError({
    needed: "a study's folder, as seen from the folder you are in",
    came: existsSync(study) ? "there is no study.json in it" : "there is no such folder",
    where: named,
    todo:
      near === null
        ? `Looked for ${join(study, "study.json")}. Make a study with: gramline new ${named}`
        : `Is ${near} meant?`,
  });
}
