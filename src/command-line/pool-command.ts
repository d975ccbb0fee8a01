import { basename, dirname, relative, resolve } from "node:path";
import type { Command } from "commander";
import { openArchive } from "../archive/open-archive.js";
import { type PooledGrowth, poolGrowth } from "../archive/pool-growth.js";
import { noticeText } from "../core/catalogue.js";
import { writeSet } from "../publish/write-set.js";
import { fewestAnimalsOfPrior } from "../records/prior-file.js";
import { screenWording } from "../units/format.js";
import {
  type AnsweringOptions,
  answering,
  progressLine,
  progressOf,
  sayAnswer,
} from "./answering.js";
import { agesBetween } from "./option-values.js";

interface PoolOptions extends AnsweringOptions {
  readonly species?: string;
  readonly ages?: string;
  readonly out: string;
}

/** `gramline pool ARCHIVE`: the growth of a species across houses, and a prior file of it. */
export function poolCommand(program: Command): void {
  answering(program.command("pool"))
    .description(
      "tell the growth of a species across the houses of an archive, and write it as a prior file (needs DuckDB)",
    )
    .argument("<archive>", "the archive's folder")
    .option("--species <name>", "the species (default: the only one)")
    .option("--ages <from-to>", "ages in days between which gain is compared (default: the usual)")
    .option("--out <file>", "the prior file", "prior.json")
    .action(async (folder: string, options: PoolOptions) => {
      const ages = options.ages === undefined ? {} : { ages: agesBetween("--ages", options.ages) };
      const out = resolve(options.out);
      const line = progressLine(options);
      const archive = await openArchive(folder);
      try {
        const pooled = await poolGrowth(archive, {
          ...(options.species === undefined ? {} : { species: options.species }),
          ...ages,
          onProgress: progressOf(line),
        });
        line.end();
        const written = await writePrior(pooled.value, out);
        const said = pooled.notices.map((n) => noticeText(n, screenWording("UTC")));
        const { prior, ...growth } = pooled.value;
        sayAnswer(
          options,
          {
            kind: "pool",
            ...growth,
            said,
            written,
            prior: prior === null ? null : JSON.parse(prior),
          },
          [...poolLines(pooled.value), ...said, priorLine(pooled.value, written)],
        );
      } finally {
        archive.close();
      }
    });
}

async function writePrior({ prior }: PooledGrowth, out: string): Promise<string[]> {
  if (prior === null) return [];
  await writeSet(dirname(out), "prior", new Map([[basename(out), prior]]), { keep: true });
  return [relative(process.cwd(), out)];
}

const g = (value: number) => value.toFixed(1);

function poolLines({ species, window, mean, between, facilities }: PooledGrowth): string[] {
  const { lower, upper } = mean.interval!;
  const width = Math.max(...facilities.map((f) => f.facility.length));
  return [
    `${species}, ages ${window.fromAgeD} to ${window.toAgeD} d: ${g(mean.value!)} g/d in the mean of houses (95 %: ${g(lower!)} to ${g(upper!)}), ${mean.n} animals.`,
    `Standard deviation between houses ${g(between.facilities)}, ${between.seasons === null ? "" : `between seasons of a house ${g(between.seasons)}, `}between animals ${g(between.animals)} g/d.`,
    ...facilities.map(
      (f) =>
        `${f.facility.padEnd(width)}  ${g(f.expected.value!)} g/d expected, ${g(f.observed)} observed, ${f.animals} animals; ${f.seasons.map((s) => `${s.season}: ${g(s.observed)} (${s.animals})`).join(", ")}`,
    ),
  ];
}

function priorLine(pooled: PooledGrowth, written: readonly string[]): string {
  if (written.length === 0)
    return `No prior file: it needs ${fewestAnimalsOfPrior} animals, so that none can be recognised; there are ${pooled.priorAnimals}.`;
  return `Written: ${written[0]}, of ${pooled.priorAnimals} animals in ${pooled.priorSeasons} seasons of ${pooled.priorFacilities} houses. Put it into a study's folder and name it in study.json: "priors": [...]`;
}
