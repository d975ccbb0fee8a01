import { basename, dirname, relative, resolve } from "node:path";
import type { Command } from "commander";
import { priorOfStudy } from "../analysis/prior-of-study.js";
import { writeSet } from "../publish/write-set.js";
import { readStudy } from "../records/files/read-study.js";
import { type AnsweringOptions, answering, sayAnswer } from "./answering.js";

interface PriorOptions extends AnsweringOptions {
  readonly species?: string;
  readonly out: string;
}

/** `gramline prior FOLDER`: what the study knows of gain, for another nursery. */
export function priorCommand(program: Command): void {
  answering(program.command("prior"))
    .description(
      "write what a study's young gained and how much that varies, for another nursery: no rows, names or dates",
    )
    .argument("<folder>", "folder with study.json and the tables")
    .option("--species <name>", "the species (default: the only one)")
    .option("--out <file>", "the file", "prior.json")
    .action(async (folder: string, options: PriorOptions) => {
      const out = resolve(options.out);
      const { text, said } = priorOfStudy(await readStudy(folder), options.species);
      await writeSet(dirname(out), "prior", new Map([[basename(out), text]]), { keep: true });
      const written = relative(process.cwd(), out);
      sayAnswer(options, { kind: "prior", said, written: [written], prior: JSON.parse(text) }, [
        `${said} Written: ${written}`,
        'Put it into another study\'s folder and name it in study.json: "priors": [...]',
      ]);
    });
}
