import { relative } from "node:path";
import type { Command } from "commander";
import type { ArchivedStudy } from "../archive/archived-study.js";
import { openArchive } from "../archive/open-archive.js";
import type { AddedToArchive } from "../publish/add-to-archive.js";
import type { ArchiveFault, CheckedArchive } from "../publish/check-archive.js";
import {
  type AnsweringOptions,
  answering,
  progressLine,
  progressOf,
  sayAnswer,
} from "./answering.js";
import { exitCodes } from "./exit-codes.js";

interface AddOptions extends AnsweringOptions {
  readonly to: string;
  readonly facility: string;
  readonly name?: string;
  readonly withPeople: boolean;
}

/** `gramline archive add | check | list | remove`: many studies of many houses in one place. */
export function archiveCommand(program: Command): void {
  const archive = program
    .command("archive")
    .description("keep the accepted rows of many studies and houses as Parquet (needs DuckDB)");
  addCommand(archive);
  checkCommand(archive);
  listCommand(archive);
  removeCommand(archive);
}

function addCommand(archive: Command): void {
  answering(archive.command("add"))
    .description("add a study; added again it changes nothing, corrected it replaces its own rows")
    .argument("<study>", "folder with study.json and the tables")
    .requiredOption("--to <archive>", "the archive's folder, made where it is missing")
    .requiredOption("--facility <name>", "the house: letters a to z, digits, - and _")
    .option(
      "--name <name>",
      "the name under which the study replaces itself (default: its folder's)",
    )
    .option("--with-people", "keep names and words of people", false)
    .action(async (study: string, options: AddOptions) => {
      const { addToArchive } = await import("../publish/add-to-archive.js");
      const line = progressLine(options);
      const { facility, name, withPeople } = options;
      const to = options.to;
      const more = { ...(name === undefined ? {} : { name }), onProgress: progressOf(line) };
      const added = await addToArchive(study, { to, facility, withPeople, ...more });
      line.end();
      sayAnswer(options, { kind: "archive-add", ...added }, addedLines(added, to));
    });
}

function addedLines({ state, study, rows, bytes }: AddedToArchive, to: string): string[] {
  const sum = (pick: (c: (typeof study.counts)[number]) => number) =>
    study.counts.reduce((n, c) => n + pick(c), 0);
  const { decisions, facility } = study;
  const what = {
    added: `Added to ${to} as ${facility}`,
    replaced: `Replaced in ${to}, ${facility}`,
    unchanged: `In ${to} already, ${facility}: nothing was changed`,
  }[state];
  return [
    `${what}: ${study.animals} animals, ${sum((c) => c.accepted)} rows accepted, ${sum((c) => c.setAside)} set aside.`,
    `Decisions: ${decisions.applied} applied, ${decisions.withoutRow} without a row. ${rows} rows in ${megabytes(bytes)}.`,
    study.withPeople
      ? "Names and words of people are in it (--with-people)."
      : "People are left out; ids made of codes stay.",
  ];
}

const megabytes = (bytes: number) => `${(bytes / 1e6).toFixed(1)} MB`;

function checkCommand(archive: Command): void {
  answering(archive.command("check"))
    .description("hold every file of an archive against its list")
    .argument("<archive>", "the archive's folder")
    .action(async (folder: string, options: AnsweringOptions) => {
      const { checkArchive } = await import("../publish/check-archive.js");
      const line = progressLine(options);
      const checked = await checkArchive(folder, { onProgress: progressOf(line) });
      line.end();
      const { studies, ...rest } = checked;
      sayAnswer(
        options,
        { kind: "archive-check", studies: studies.length, ...rest },
        checkedLines(checked),
      );
      if (checked.faults.length > 0) process.exitCode = exitCodes.lookAtIt;
    });
}

function checkedLines({ studies, files, rows, bytes, faults }: CheckedArchive): string[] {
  const houses = new Set(studies.map((s) => s.facility)).size;
  const first = `${counted(studies.length, "study", "studies")} of ${counted(houses, "facility", "facilities")}: ${counted(files, "file", "files")}, ${counted(rows, "row", "rows")}, ${megabytes(bytes)}.`;
  if (faults.length === 0) return [first, "Every file is there as it was written."];
  return [first, ...faults.slice(0, 20).map(faultLine), ...moreLine(faults.length - 20)];
}

const counted = (n: number, one: string, many: string) => `${n} ${n === 1 ? one : many}`;

const moreLine = (n: number) => (n > 0 ? [`and ${n} more (--json lists them all)`] : []);

function faultLine({ facility, study, where, what, has, should }: ArchiveFault): string {
  const whose = facility === null ? "" : ` Add the study "${study}" of ${facility} again.`;
  switch (what) {
    case "missing":
      return `${where}: it is missing.${whose}`;
    case "changed":
      return `${where}: it is not as it was written.${whose}`;
    case "rows differ":
    case "accepted rows differ":
      return `${where}: ${has} rows are there, ${should} should be.${whose}`;
    case "left by a run that was killed":
      return `${where}: left by a run that was killed; it counts nowhere and goes at the next add.`;
    case "of nobody":
      return `${where}: gramline did not write it, and it counts nowhere; move it away.`;
  }
}

function listCommand(archive: Command): void {
  answering(archive.command("list"))
    .description("list the studies of an archive")
    .argument("<archive>", "the archive's folder")
    .action(async (folder: string, options: AnsweringOptions) => {
      const opened = await openArchive(folder);
      opened.close();
      const { studies } = opened;
      const shown = studies.map(({ files: _, settings: __, ...study }) => study);
      sayAnswer(options, { kind: "archive-list", studies: shown }, [
        `${counted(studies.length, "study", "studies")} in ${relative(process.cwd(), folder) || "."}:`,
        ...studies.map(studyLine),
      ]);
    });
}

function studyLine(study: ArchivedStudy): string {
  const accepted = study.counts.reduce((n, c) => n + c.accepted, 0);
  const aside = study.counts.reduce((n, c) => n + c.setAside, 0);
  const seasons = [...new Set(study.files.flatMap((f) => f.season ?? []))].sort();
  return `${study.facility}: ${study.name ?? study.study}, seasons ${seasons.join(", ") || "not written"}, ${study.animals} animals, ${accepted} rows accepted, ${aside} set aside, gramline ${study.gramlineVersion}${study.withPeople ? ", with people" : ""}`;
}

interface RemoveOptions extends AnsweringOptions {
  readonly facility: string;
  readonly study?: string;
  readonly all: boolean;
}

function removeCommand(archive: Command): void {
  answering(archive.command("remove"))
    .description("take a study, or all of a facility, out of an archive")
    .argument("<archive>", "the archive's folder")
    .requiredOption("--facility <name>", "the facility")
    .option("--study <name>", "the study, by the name or key that list shows")
    .option("--all", "every study of the facility", false)
    .action(async (folder: string, options: RemoveOptions) => {
      const { removeFromArchive, studyAsked } = await import("../publish/remove-from-archive.js");
      const asked = studyAsked(options.study ?? null, options.all);
      const gone = await removeFromArchive(folder, options.facility, asked);
      const names = gone.map((s) => s.name ?? s.study);
      sayAnswer(options, { kind: "archive-remove", facility: options.facility, removed: names }, [
        `Removed from ${options.facility}: ${names.join(", ")}.`,
      ]);
    });
}
