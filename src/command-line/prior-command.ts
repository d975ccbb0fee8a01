import { basename, dirname, relative, resolve } from "node:path";
import type { Command } from "commander";
import { priorOfStudy } from "../analysis/prior-of-study.js";
import { writeSet } from "../publish/write-set.js";
import { readStudy } from "../records/files/read-study.js";

/** `gramline prior FOLDER`: what the study knows of gain, for another nursery. */
export function priorCommand(program: Command): void {
  program
    .command("prior")
    .description(
      "write what a study's young gained and how much that varies, for another nursery: no rows, names or dates",
    )
    .argument("<folder>", "folder with study.json and the tables")
    .option("--species <name>", "the species (default: the only one)")
    .option("--out <file>", "the file", "prior.json")
    .action(async (folder: string, options: { species?: string; out: string }) => {
      const out = resolve(options.out);
      const { text, said } = priorOfStudy(await readStudy(folder), options.species);
      await writeSet(dirname(out), "prior", new Map([[basename(out), text]]), { keep: true });
      console.log(`${said} Written: ${relative(process.cwd(), out)}`);
      console.log('Put it into another study\'s folder and name it in study.json: "priors": [...]');
    });
}
