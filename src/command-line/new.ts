import { existsSync, readdirSync, rmSync } from "node:fs";
import { readdir, rename, rm, rmdir } from "node:fs/promises";
import { basename, dirname, join, resolve } from "node:path";
import { createInterface } from "node:readline/promises";
import { fileURLToPath } from "node:url";
import type { Command } from "commander";
import { speciesQuestion } from "../analysis/species-question.js";
import { UsageError } from "../core/usage-error.js";
import { aloneIn } from "../publish/folder-lock.js";
import { cannotWrite, makeFolder } from "../publish/write-whole.js";
import { closestName } from "../records/closest-name.js";
import { whenInterrupted } from "../records/files/when-interrupted.js";
import { writeAtomically } from "../records/files/write-atomically.js";
import { templateWorkbook } from "../records/template-workbook.js";
import { isZone } from "../units/zone.js";
import { type AnsweringOptions, answering, sayAnswer } from "./answering.js";
import { linkPackages } from "./link-packages.js";
import { sayLines } from "./on-screen.js";
import { wholeNumber } from "./option-values.js";
import { ownNotebook, packagesOf } from "./own-notebook.js";
import { readNotebook } from "./read-notebook.js";

export interface NewOptions {
  readonly title: string;
  readonly species: readonly string[];
  readonly zone: string;
  readonly feedingDayStartHour: number;
  /** The folder gramline lies in: notebooks are copied from there and linked back to it. */
  readonly home: string;
}

/** Registers `gramline new FOLDER`. */
export function newCommand(program: Command): void {
  answering(program.command("new"))
    .description("make an empty study: settings, a workbook to fill in, the notebooks")
    .argument("<folder>", "a folder that is not there yet, or is empty")
    .option("--title <words>", "title of the study")
    .option("--species <names...>", "species kept", ["sea otter"])
    .option(
      "--zone <name>",
      "IANA time zone of the records, e.g. Europe/Berlin; asked for if left out",
    )
    .option("--day-starts <hour>", "hour at which the feeding day begins", "6")
    .action(async (folder: string, options: CommandOptions) => {
      const zone = options.zone ?? (await askForZone(options));
      const made = await makeStudy(folder, {
        title: options.title ?? basename(resolve(folder)),
        species: options.species,
        zone,
        feedingDayStartHour: wholeNumber("--day-starts", options.dayStarts),
        home: resolve(dirname(fileURLToPath(import.meta.url)), "..", ".."),
      });
      const open = join(folder, "READ ME FIRST.txt");
      const said = [
        ...(options.zone === undefined ? [zoneWarning(zone)] : []),
        ...speciesWarnings(options.species),
      ];
      sayAnswer(options, { kind: "new", zone, open, made, said }, [
        ...made.map((name) => `  ${name}`),
        `\nOpen ${open}`,
        ...said.map((each) => `\n${each}`),
      ]);
    });
}

interface CommandOptions extends AnsweringOptions {
  readonly title?: string;
  readonly species: readonly string[];
  readonly zone?: string;
  readonly dayStarts: string;
}

/** Asks for the zone where somebody can answer; else it is this computer's, and that is said. */
async function askForZone({ json, quiet }: AnsweringOptions): Promise<string> {
  const here = Intl.DateTimeFormat().resolvedOptions().timeZone;
  if (json || quiet || process.stdin.isTTY !== true || process.stdout.isTTY !== true) return here;
  const lines = createInterface({ input: process.stdin, output: process.stdout });
  try {
    for (;;) {
      const asked = `Time zone of the records (enter for this computer's, ${here}): `;
      const answer = (await lines.question(asked)).trim();
      if (answer === "") return here;
      if (isZone(answer)) return answer;
      const meant = nearestZone(answer);
      sayLines(
        `No time zone "${answer}" is known; ${meant === null ? "write it like Europe/Berlin" : `is ${meant} meant?`}`,
      );
    }
  } finally {
    lines.close();
  }
}

/** The zone that a slip of the pen may have meant: the whole name, or its city alone. */
function nearestZone(written: string): string | null {
  const all = Intl.supportedValuesOf("timeZone");
  const wanted = written.trim().replaceAll(" ", "_");
  const city = (zone: string) => zone.slice(zone.lastIndexOf("/") + 1);
  const near = closestName(wanted, new Set(all));
  if (near !== null) return near;
  const nearCity = closestName(city(wanted), new Set(all.map(city)));
  return all.find((zone) => city(zone) === nearCity) ?? null;
}

/** Species of which nothing is known here: a slip of the pen, or one of the user's own. */
export function speciesWarnings(species: readonly string[]): string[] {
  return species.flatMap((each) => {
    const { isKnown, meant } = speciesQuestion(each);
    if (isKnown) return [];
    const asked = meant === null ? "" : ` Is ${meant} meant? Then correct "species" in study.json.`;
    return [
      `No numbers of "${each}" come with gramline.${asked}\nHow your veterinarian's are entered: ${onSpecies}.`,
    ];
  });
}

const onSpecies = 'species_overrides in study.json, see "A species of your own" in the manual';

/** What is said where the zone was not given on the command line. */
export function zoneWarning(zone: string): string {
  return `TIME ZONE: ${zone} was written into study.json, without --zone being given.
Every time in the records is read in it. If they are from elsewhere, correct
"zone" in study.json before anything else.`;
}

const wrong = (needed: string, came: string, todo: string) =>
  new UsageError({ needed, came, where: "gramline new", todo });

/**
 * Makes an empty study.
 *
 * @returns the names of what was made.
 * @throws UsageError when the folder holds something already, or a setting is wrong.
 */
export async function makeStudy(folder: string, options: NewOptions): Promise<string[]> {
  if (!isZone(options.zone))
    throw wrong(
      "an IANA time zone",
      `"${options.zone}" came`,
      nearestZone(options.zone) === null
        ? "Give it with --zone Europe/Berlin."
        : `Is ${nearestZone(options.zone)} meant?`,
    );
  const hour = options.feedingDayStartHour;
  if (!Number.isInteger(hour) || hour < 0 || hour > 23)
    throw wrong("an hour from 0 to 23", `${hour} came`, "Give it with --day-starts 6.");
  const root = resolve(folder);
  // Made beside its place and put there whole: a run that is killed leaves the place free.
  const making = `${root}${unfinished}`;
  if (!existsSync(making)) await requireFree(root);
  const done = whenInterrupted(() => leaveNothing(making));
  try {
    return await aloneIn(making, async () => {
      const study = join(making, "study");
      await rm(study, { recursive: true, force: true });
      await requireFree(root);
      const made = await fillStudy(study, folder, options);
      if (existsSync(root)) await rmdir(root);
      await rename(study, root);
      return made;
    });
  } catch (error) {
    throw (error as NodeJS.ErrnoException).code === undefined
      ? error
      : cannotWrite(root, error as NodeJS.ErrnoException);
  } finally {
    leaveNothing(making);
    done();
  }
}

/** Takes the folder of what was half made away, unless another run is at work in it. */
function leaveNothing(making: string): void {
  try {
    if (readdirSync(making).every((name) => name === "study"))
      rmSync(making, { recursive: true, force: true });
  } catch {
    // It is not there, or may not be taken away; the next run into this place looks again.
  }
}

async function requireFree(root: string): Promise<void> {
  const there = await readdir(root).catch((error: NodeJS.ErrnoException) => {
    if (error.code === "ENOENT") return [];
    throw error.code === "ENOTDIR"
      ? wrong(
          "a folder that is not there yet, or an empty one",
          `${basename(root)} is a file, or lies in one`,
          "Choose another name; nothing was changed.",
        )
      : cannotWrite(root, error);
  });
  if (there.length > 0)
    throw wrong(
      "a folder that is not there yet, or an empty one",
      `${basename(root)} holds ${there.slice(0, 3).join(", ")}${there.length > 3 ? " and more" : ""}`,
      "Choose another name; nothing was changed.",
    );
}

/** Settings, workbook, guide, notebooks and links to what they need; the names of what was made. */
async function fillStudy(study: string, folder: string, options: NewOptions): Promise<string[]> {
  await makeFolder(join(study, "notebooks"));
  const settings = {
    title: options.title,
    species: options.species,
    zone: options.zone,
    feeding_day_start_hour: options.feedingDayStartHour,
    blank_tare_is_zero: false,
    blank_refusal_is_none: false,
    date_style: "year-month-day",
    decimal: "point",
    scale_error_g: {},
  };
  await writeAtomically(join(study, "study.json"), `${JSON.stringify(settings, null, 2)}\n`);
  await writeAtomically(join(study, "records.xlsx"), templateWorkbook());
  await writeAtomically(join(study, "READ ME FIRST.txt"), guide(folder, options));
  const made = ["study.json", "records.xlsx", "READ ME FIRST.txt"];
  const packages = new Set(["gramline"]);
  for (const name of await notebooksOf(options.home)) {
    const own = ownNotebook(readNotebook(join(options.home, "notebooks", name)), "..");
    await writeAtomically(join(study, "notebooks", name), `${JSON.stringify(own, null, 1)}\n`);
    for (const each of packagesOf(own)) packages.add(each);
    made.push(join("notebooks", name));
  }
  await linkPackages(study, options.home, [...packages]);
  return made;
}

/** Ending of the folder of a study that is being made. */
const unfinished = ".being-made";

async function notebooksOf(home: string): Promise<string[]> {
  const names = await readdir(join(home, "notebooks")).catch(() => [] as string[]);
  return names.filter((name) => name.endsWith(".ipynb")).sort();
}

function guide(folder: string, options: NewOptions): string {
  return `${options.title}

1. Open records.xlsx. Fill in the sheets "animals" and "weighings"; the other
   sheets when you have what belongs there. "example ..." shows how, "data
   dictionary" says what each column holds. Times are local to ${options.zone};
   write them as 2025-05-02 06:10.
2. Open a terminal in this folder (${basename(resolve(folder))}). All commands below are typed there.
     npx gramline check .
   says on one screen what was read, what was set aside and why. Nothing in
   your files is changed.
3. The day: every animal in care on one page, those of most concern first.
     npx gramline day .
4. The notebooks are in the folder "notebooks", about your animals. Run those that
   your tables allow, with pages to open; for the others it says what to fill in:
     npx gramline run-notebooks
   In each, the first cell names the day, the season and the animal; null takes
   the latest day, the latest season, the animal that the day's page names first.
5. A report for others (page, Word, sheets, a page for each animal):
     npx gramline report .

Settings are in study.json: the hour at which the feeding day begins (${options.feedingDayStartHour}),
whether a blank tare means zero, whether a blank refusal means that nothing was
left over, the known error of each scale.

gramline advises and never decides. A flag is no diagnosis; the attending
veterinarian, the permit conditions and local rules come first.
`;
}
