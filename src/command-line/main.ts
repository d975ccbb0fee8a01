#!/usr/bin/env node
import { dirname, join, relative, resolve } from "node:path";
import { fileURLToPath } from "node:url";
import { Command } from "commander";
import { UsageError } from "../core/usage-error.js";
import { libraryVersion } from "../publish/version.js";
import { checkCommand } from "./check.js";
import { dayCommand } from "./day-command.js";
import { handOverCommand } from "./hand-over-command.js";
import { newCommand } from "./new.js";
import { namedValues, wholeNumber } from "./option-values.js";
import { priorCommand } from "./prior-command.js";
import { reportCommand } from "./report-command.js";

/** The project's or the installed package's folder. */
const home = resolve(dirname(fileURLToPath(import.meta.url)), "..", "..");

const program = new Command("gramline")
  .description("Growth and feeding records of hand-reared young, turned into answers.")
  .version(libraryVersion())
  .showHelpAfterError();

program
  .command("run-notebooks")
  .description("run every notebook, write executed copies and one page each")
  .argument("[names...]", "only these notebooks")
  .option("--notebooks <folder>", "folder with the notebooks", join(home, "notebooks"))
  .option("--out <folder>", "where pages go", "out")
  .option("--set <name=value...>", "values for the cell tagged parameters")
  .option("--cell-seconds <number>", "longest time for one cell", "600")
  .action(async (names: string[], options: RunOptions) => {
    const parameters = namedValues("--set", options.set ?? []);
    const cellSeconds = wholeNumber("--cell-seconds", options.cellSeconds, 1);
    const { runNotebooks, stopKernelsOnInterrupt } = await import("./run-notebooks.js");
    stopKernelsOnInterrupt();
    const terminal = process.stderr.isTTY;
    const outcomes = await runNotebooks({
      notebooks: resolve(options.notebooks),
      out: resolve(options.out),
      only: names,
      parameters,
      cellSeconds,
      say: (line) => console.log(line),
      ...(terminal
        ? { onProgress: (text: string) => process.stderr.write(`\r\u001b[K${text}`) }
        : {}),
    });
    const failed = outcomes.filter((each) => each.failure !== null);
    const page = relative(process.cwd(), join(resolve(options.out), "index.html"));
    if (failed.length === 0) console.log(`\nOpen ${page}`);
    else {
      console.error(
        `\n${failed.length} of ${outcomes.length} notebooks failed; what there is: ${page}`,
      );
      process.exitCode = 1;
    }
  });

program
  .command("notebooks")
  .description("open Jupyter with the kernel of this project")
  .action(async () => {
    const { openNotebooks } = await import("./notebooks-in-jupyter.js");
    process.exitCode = await openNotebooks(home);
  });

program
  .command("kernel-path", { hidden: true })
  .description("write the kernel's description and print the folder for JUPYTER_PATH")
  .action(async () => {
    const { jupyterEnvironment } = await import("./notebooks-in-jupyter.js");
    console.log((await jupyterEnvironment(home)).JUPYTER_PATH);
  });

program
  .command("doctor")
  .description("check what is needed and print the fix for what is missing")
  .action(async () => {
    const { doctor, doctorText } = await import("./doctor.js");
    const checks = await doctor(home);
    console.log(doctorText(checks));
    if (checks.some((check) => check.state === "missing")) process.exitCode = 1;
  });

interface RunOptions {
  readonly notebooks: string;
  readonly out: string;
  readonly set?: string[];
  readonly cellSeconds: string;
}

checkCommand(program);

newCommand(program);

priorCommand(program);

reportCommand(program);

dayCommand(program);

handOverCommand(program);

try {
  await program.parseAsync();
} catch (error) {
  // A user's mistake is one sentence; anything else keeps its trace, because it is ours.
  if (error instanceof UsageError) console.error(`gramline: ${error.message}`);
  else console.error(error);
  process.exitCode = 1;
}
