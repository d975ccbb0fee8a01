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
import { priorCommand } from "./prior-command.js";
import type { NotebookParameters } from "./read-notebook.js";

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
  .action(async (names: string[], options: { notebooks: string; out: string; set?: string[] }) => {
    const { runNotebooks, stopKernelsOnInterrupt } = await import("./run-notebooks.js");
    stopKernelsOnInterrupt();
    const terminal = process.stderr.isTTY;
    const outcomes = await runNotebooks({
      notebooks: resolve(options.notebooks),
      out: resolve(options.out),
      only: names,
      parameters: parametersOf(options.set ?? []),
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

checkCommand(program);

newCommand(program);

priorCommand(program);

program
  .command("report")
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
  .option("--without-people", "leave out notes, names and permit numbers", false)
  .option("--pdf", "print the page to report.pdf as well, with Chromium, Chrome or Edge", false)
  .action(async (folder: string, options: ReportCommandOptions) => {
    const { writeReport } = await import("../publish/write-report.js");
    const out = resolve(options.out);
    const written = await writeReport(folder, {
      out,
      date: options.date ?? today(),
      ...(options.ages === undefined ? {} : { ages: options.ages }),
      seed: Number(options.seed),
      withoutPeople: options.withoutPeople,
      now: Date.now(),
      ...(options.on === undefined ? {} : { onDay: options.on }),
    });
    if (options.pdf) {
      const { printPdf } = await import("../publish/print-pdf.js");
      await printPdf(join(out, "report.html"), join(out, "report.pdf"));
    }
    for (const sentence of written.decisions) console.log(sentence);
    console.log(`${written.files.length} files; animals: ${written.animals}.`);
    console.log(`Open ${relative(process.cwd(), join(out, "index.html"))}`);
  });

interface ReportCommandOptions {
  readonly out: string;
  readonly date?: string;
  readonly on?: string;
  readonly ages?: string;
  readonly seed: string;
  readonly withoutPeople: boolean;
  readonly pdf: boolean;
}

dayCommand(program);

handOverCommand(program);

/** The clock is read here and nowhere deeper. */
function today(): string {
  const now = new Date();
  const two = (n: number) => String(n).padStart(2, "0");
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
}

/** `name=value`; the notebook's own default says whether it is a text, a number or a yes. */
function parametersOf(pairs: readonly string[]): NotebookParameters {
  return Object.fromEntries(
    pairs.map((pair) => {
      const at = pair.indexOf("=");
      if (at < 1) {
        throw new UsageError({
          needed: "name=value",
          came: `"${pair}" was given`,
          where: "--set",
          todo: "Write for example --set animal=Mica.",
        });
      }
      return [pair.slice(0, at), pair.slice(at + 1)];
    }),
  );
}

try {
  await program.parseAsync();
} catch (error) {
  // A user's mistake is one sentence; anything else keeps its trace, because it is ours.
  if (error instanceof UsageError) console.error(`gramline: ${error.message}`);
  else console.error(error);
  process.exitCode = 1;
}
