import { existsSync } from "node:fs";
import { dirname, join, resolve } from "node:path";
import { fileURLToPath } from "node:url";
import { Command } from "commander";
import { UsageError } from "../core/usage-error.js";
import { libraryVersion } from "../publish/version.js";
import { nearestFolder } from "../records/files/nearest-folder.js";
import { type AnsweringOptions, answering, sayAnswer } from "./answering.js";
import { archiveCommand } from "./archive-command.js";
import { cacheCommand } from "./cache-command.js";
import { checkCommand } from "./check.js";
import { dayCommand } from "./day-command.js";
import { didYouMean } from "./did-you-mean.js";
import { endedBy, exitCodes, exitCodesText } from "./exit-codes.js";
import { explainCommand } from "./explain-command.js";
import { handOverCommand } from "./hand-over-command.js";
import { newCommand } from "./new.js";
import { refuseBlanks } from "./option-values.js";
import { poolCommand } from "./pool-command.js";
import { priorCommand } from "./prior-command.js";
import { reportCommand } from "./report-command.js";
import { runNotebooksCommand } from "./run-notebooks-command.js";
import { watchCommand } from "./watch-command.js";

/** The project's or the installed package's folder. */
const home = resolve(dirname(fileURLToPath(import.meta.url)), "..", "..");

/**
 * Runs one command line, as typed after `gramline`.
 *
 * @returns the code to end with; see `exitCodes`.
 * @example await runCommand(["check", "../my-nursery", "--json"]) // 0
 */
export async function runCommand(args: readonly string[]): Promise<number> {
  const program = everyCommand();
  try {
    requireCommand(program, args);
    await program.parseAsync(args, { from: "user" });
    return Number(process.exitCode ?? exitCodes.done);
  } catch (error) {
    return endedBy(error, args, program);
  }
}

/** A command that is none is named as such also where its help is asked for. */
function requireCommand(program: Command, args: readonly string[]): void {
  const name = args[0] === "help" ? args[1] : args[0];
  const known = ["help", ...program.commands.map((each) => each.name())];
  if (name === undefined || name.startsWith("-") || known.includes(name)) return;
  throw new UsageError({
    needed: "a command",
    came: `"${name}" is none`,
    where: "gramline",
    todo: didYouMean(name, known) ?? "gramline --help lists them.",
  });
}

/** Every command with its options, as it is registered. */
export function everyCommand(): Command {
  const program = new Command("gramline")
    .description("Growth and feeding records of hand-reared young, turned into answers.")
    .version(libraryVersion())
    .addHelpText("after", exitCodesText)
    // What is wrong with a line is said in the one form of all mistakes: see endedBy.
    .configureOutput({ outputError: () => {} })
    .hook("preAction", (_, asked) => refuseBlanks(asked))
    .exitOverride();

  program
    .command("notebooks")
    .description("open Jupyter with the kernel of this project")
    .argument("[study]", "the study whose notebooks are opened (default: those of the demo)")
    .action(async (study: string | undefined) => {
      const { openNotebooks } = await import("./notebooks-in-jupyter.js");
      process.exitCode = await openNotebooks(home, join(await notebooksHome(study), "notebooks"));
    });

  answering(program.command("kernel-path"))
    .description(
      "write the description of the notebook kernel and print its folder, for JUPYTER_PATH",
    )
    .action(async (options: AnsweringOptions) => {
      const { jupyterEnvironment } = await import("./notebooks-in-jupyter.js");
      const path = (await jupyterEnvironment(home)).JUPYTER_PATH;
      sayAnswer(options, { kind: "kernel-path", path }, [path]);
    });

  answering(program.command("doctor"))
    .description("check what is needed and print the fix for what is missing")
    .action(async (options: AnsweringOptions) => {
      const { doctor, doctorText } = await import("./doctor.js");
      const checks = await doctor(home, process.cwd());
      sayAnswer(options, { kind: "doctor", checks }, [doctorText(checks)]);
      if (checks.some((check) => check.state === "missing")) process.exitCode = exitCodes.lookAtIt;
    });

  runNotebooksCommand(program, home);

  checkCommand(program);

  newCommand(program);

  priorCommand(program);

  reportCommand(program);

  dayCommand(program);

  handOverCommand(program);

  watchCommand(program);

  explainCommand(program);

  archiveCommand(program);

  poolCommand(program);

  cacheCommand(program);
  return program;
}

/** The folder that holds the notebooks to open. */
async function notebooksHome(study: string | undefined): Promise<string> {
  if (study === undefined) return home;
  if (existsSync(join(study, "notebooks"))) return resolve(study);
  const near = existsSync(study) ? null : await nearestFolder(study);
  throw new UsageError({
    needed: "a study with notebooks of its own",
    came: existsSync(study) ? "there is no folder notebooks in it" : "there is no such folder",
    where: study,
    todo:
      near !== null
        ? `Is ${near} meant?`
        : `Make one with: gramline new ${study}. Or run pages without Jupyter: gramline run-notebooks --study ${study}`,
  });
}
