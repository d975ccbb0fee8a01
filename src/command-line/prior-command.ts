import { relative, resolve } from "node:path";
import type { Command } from "commander";
import { UsageError } from "../core/usage-error.js";
import { priorOfStudy } from "../flags/watch/prior-of-study.js";
import { readStudy } from "../records/files/read-study.js";
import { writeAtomically } from "../records/files/write-atomically.js";
import { priorText } from "../records/prior-file.js";
import { buildSeries } from "../series/build-series.js";

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
      const { text, said } = await priorOf(folder, options.species);
      await writeAtomically(out, text);
      console.log(`${said} Written: ${relative(process.cwd(), out)}`);
      console.log('Put it into another study\'s folder and name it in study.json: "priors": [...]');
    });
}

/**
 * The text of a study's prior file, and what it holds in words.
 *
 * @throws UsageError for an unknown species, several without a choice, or too few animals.
 */
export async function priorOf(
  folder: string,
  species: string | undefined,
): Promise<{ readonly text: string; readonly said: string }> {
  const study = buildSeries(await readStudy(folder));
  const all = [...new Set(study.animals.map((a) => a.animal.species))].sort();
  const chosen =
    species === undefined && all.length === 1
      ? all[0]
      : all.find((each) => each.toLowerCase() === species?.toLowerCase());
  if (chosen === undefined) {
    throw new UsageError({
      needed: "one species of the study",
      came: species === undefined ? `it has ${all.length}` : `"${species}"`,
      where: "gramline prior, --species",
      todo: `Choose one of: ${all.join(", ")}.`,
    });
  }
  const summary = priorOfStudy(study, chosen);
  if (summary === null) {
    throw new UsageError({
      needed: `weighings of "${chosen}" after the arrival phase`,
      came: "none",
      where: "gramline prior",
      todo: "Run `gramline check` on the folder: it says what was set aside.",
    });
  }
  return {
    text: priorText(summary, chosen),
    said: `${chosen}: ${summary.animals} animals in ${summary.seasons} seasons, as numbers of the whole group.`,
  };
}
