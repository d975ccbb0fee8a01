import { existsSync, readdirSync } from "node:fs";
import { availableParallelism } from "node:os";
import { basename, join, relative, resolve } from "node:path";
import { askRecords } from "../analysis/ask-records.js";
import { leaveOutPeople } from "../analysis/leave-out-people.js";
import { engineIsInstalled } from "../archive/load-engine.js";
import { readStudy } from "../cache/read-study.js";
import { noticeText } from "../core/catalogue.js";
import { UsageError } from "../core/usage-error.js";
import { pageFont } from "../publish/page-font.js";
import { pageScript } from "../publish/page-script.js";
import { withDietNames } from "../publish/with-diet-names.js";
import { writeGeneration } from "../publish/write-generation.js";
import type { Study } from "../records/study.js";
import type { NotebookFile } from "../report/renderers/notebook-file.js";
import { indexPage } from "../report/renderers/page/index-page.js";
import { notebookPage, notebookTitle } from "../report/renderers/page/notebook-page.js";
import { didYouMean } from "./did-you-mean.js";
import { frontAnswer, frontPage } from "./front-page.js";
import { linkPackages } from "./link-packages.js";
import { notebookNeeds } from "./notebook-needs.js";
import {
  folderParameters,
  notebookWithoutPeople,
  requireNamingNobody,
  requireShipped,
  withoutPath,
} from "./notebook-without-people.js";
import { ownNotebook, packagesOf } from "./own-notebook.js";
import {
  type NotebookParameters,
  parameterDefault,
  readNotebook,
  withParameters,
} from "./read-notebook.js";
import { type CellFailure, runNotebook } from "./run-notebook.js";

export interface RunNotebooksOptions {
  /** Folder with the notebooks. */
  readonly notebooks: string;
  /** The study they are made ready for, where it is not theirs already. Default: as they are. */
  readonly study?: string;
  /** Pages and copies hold only what names nobody. Default false. */
  readonly withoutPeople?: boolean;
  /** The folder gramline lies in: packages are linked from there where notebooks lie elsewhere. */
  readonly home?: string;
  /** Where executed copies and pages go. */
  readonly out: string;
  /** Only these, by name without ending; when empty, all that the study's tables allow. */
  readonly only?: readonly string[];
  readonly parameters?: NotebookParameters;
  readonly cellSeconds?: number;
  readonly notebookSeconds?: number;
  readonly signal?: AbortSignal;
  readonly say?: (line: string) => void;
  /** Shows where a running notebook is; only useful on a terminal. */
  readonly onProgress?: (text: string) => void;
}

export interface NotebookOutcome {
  readonly name: string;
  readonly title: string;
  readonly seconds: number;
  readonly page: string;
  readonly failure: CellFailure | null;
}

export interface RanNotebooks {
  readonly outcomes: readonly NotebookOutcome[];
  /** Those that the tables do not allow yet, each with what to fill in. */
  readonly waiting: readonly { readonly name: string; readonly needs: string }[];
}

/**
 * Executes notebooks and writes, for each, the executed copy and one page; and
 * the day's board of their study as the front page, which leads to all of them. Notebooks
 * that nobody named and that the study's tables do not allow are left out, and what to
 * fill in for them is said. A failing notebook does not keep the others from running; the
 * outcomes say which failed and where.
 */
export async function runNotebooks(options: RunNotebooksOptions): Promise<RanNotebooks> {
  const say = options.say ?? (() => {});
  const named = chosenNotebooks(options);
  if (options.withoutPeople) await requireNamingNobody(options.parameters ?? {}, options.notebooks);
  const prepared = new Map(named.map((name) => [name, preparedNotebook(name, options)]));
  await linkForKernel(options, [...prepared.values()]);
  const about = await studyOf(options, prepared.get(first) ?? [...prepared.values()][0]!);
  const waiting: Map<string, string> =
    (options.only ?? []).length > 0 ? new Map() : waitingFor(named, about?.study);
  const names = named.filter((name) => !waiting.has(name));
  const files = new Map<string, string>();
  const foot =
    "Made by gramline. It advises; the attending veterinarian and the permit conditions decide.";
  const style = pageFont();
  const home = { href: "index.html", text: "All animals today" };
  const outcomes: NotebookOutcome[] = [];
  const day = about === null ? null : await frontAnswer(about);
  const width = Math.max(...named.map((name) => name.length));
  const runs = inLanes(lanes(), names, (name, index) => {
    options.signal?.throwIfAborted();
    return runNotebook(prepared.get(name)!, resolve(options.notebooks, `${name}.ipynb`), {
      ...(options.signal ? { signal: options.signal } : {}),
      ...(options.cellSeconds ? { cellSeconds: options.cellSeconds } : {}),
      ...(options.notebookSeconds ? { notebookSeconds: options.notebookSeconds } : {}),
      onCell: (done, total) =>
        options.onProgress?.(
          `[${index + 1}/${names.length}] ${name}: cell ${done + 1} of ${total}`,
        ),
    });
  });
  for (const [index, name] of names.entries()) {
    const run = await runs[index]!;
    options.signal?.throwIfAborted();
    const executed = shownCopy(run.notebook, options);
    // What a failure says may repeat a file, and nobody can vouch for it.
    if (run.failure === null || !options.withoutPeople) {
      files.set(`${name}.ipynb`, `${JSON.stringify(executed, null, 1)}\n`);
      const page = notebookPage(executed, name, foot, style, home, pageScript());
      files.set(`${name}.html`, withDietNames(page, about?.study.tables.diets ?? []));
    }
    const verdict = run.failure === null ? "ok" : "FAILED";
    say(
      `[${index + 1}/${names.length}] ${name.padEnd(width)}  ${run.seconds.toFixed(1).padStart(6)} s  ${verdict}`,
    );
    if (run.failure !== null) say(failureText(run.failure));
    outcomes.push({
      name,
      title: notebookTitle(run.notebook, name),
      seconds: run.seconds,
      page: `${name}.html`,
      failure: run.failure,
    });
  }
  for (const [name, why] of waiting) say(`Not run: ${name.padEnd(width)}  ${why}`);
  const written = outcomes.filter((each) => files.has(`${each.name}.html`));
  const pages = written.map((each) => ({
    href: `${each.name}.html`,
    title: each.title,
    name: each.name,
    failed: each.failure !== null,
  }));
  const front = day === null ? indexPage(pages, foot, style) : frontPage(day, pages);
  files.set("index.html", withDietNames(front, about?.study.tables.diets ?? []));
  // Where only some were asked for, the pages of the others stay.
  const folder = await writeGeneration(options.out, "notebooks", files, {
    keep: (options.only ?? []).length > 0 && !options.withoutPeople,
    forgetOlder: options.withoutPeople ?? false,
  });
  const placed = outcomes.map((each) => ({ ...each, page: join(options.out, folder, each.page) }));
  return { outcomes: placed, waiting: [...waiting].map(([name, needs]) => ({ name, needs })) };
}

/** Kernels that run beside each other: one a core, and two at most, since each holds its study in memory. */
const lanes = () => Math.min(2, availableParallelism());

/** Work on each of some names, so many at a time, begun in their order; one answer to each. */
function inLanes<T>(
  most: number,
  names: readonly string[],
  work: (name: string, index: number) => Promise<T>,
): readonly Promise<T>[] {
  const runs: Promise<T>[] = [];
  for (const [index, name] of names.entries()) {
    const before = runs.map((run) => run.then(() => undefined));
    const free = index < most ? Promise.resolve() : nthOf(before, index - most + 1);
    const run = free.then(() => work(name, index));
    // Whoever waits for it in order hears of a failure then, and not before.
    run.catch(() => undefined);
    runs.push(run);
  }
  return runs;
}

/** Settles when so many of some promises have; fails as soon as one does. */
const nthOf = (all: readonly Promise<void>[], n: number) =>
  new Promise<void>((done, fail) => {
    let settled = 0;
    for (const each of all)
      each.then(() => {
        if (++settled === n) done();
      }, fail);
  });

/** The notebook whose study and day the front page shows. */
const first = "start-here";

/** A notebook as it is run: made the study's own where it is not, and with the values given. */
function preparedNotebook(name: string, options: RunNotebooksOptions): NotebookFile {
  const read = readNotebook(resolve(options.notebooks, `${name}.ipynb`));
  const { study, parameters = {} } = options;
  const own =
    study === undefined || resolve(study, "notebooks") === resolve(options.notebooks)
      ? read
      : ownNotebook(read, relative(options.notebooks, study) || ".");
  if (options.withoutPeople && options.home !== undefined)
    requireShipped(resolve(options.notebooks, `${name}.ipynb`), join(options.home, "notebooks"));
  const safe = options.withoutPeople ? notebookWithoutPeople(own, name) : own;
  return withParameters(safe, parameters, name);
}

/** The executed copy as it may be shown. */
function shownCopy(notebook: NotebookFile, options: RunNotebooksOptions): NotebookFile {
  const { study, notebooks, withoutPeople, parameters = {} } = options;
  if (!withoutPeople) return notebook;
  const own: NotebookParameters =
    study === undefined ? {} : { studyFolder: relative(notebooks, study) || "." };
  return folderParameters.reduce((copy, name) => {
    const path = parameters[name] ?? own[name];
    const word = name.replace("Folder", "");
    return typeof path === "string" ? withoutPath(copy, path, word) : copy;
  }, notebook);
}

/** Links of a study's folder that lead nowhere any more are mended; notebooks elsewhere are left alone. */
async function linkForKernel(
  { study, notebooks, home }: RunNotebooksOptions,
  all: readonly NotebookFile[],
): Promise<void> {
  if (study === undefined || home === undefined) return;
  if (resolve(study, "notebooks") !== resolve(notebooks)) return;
  await linkPackages(study, home, ["gramline", ...all.flatMap(packagesOf)]);
}

/** The study that a notebook reads and the day it asks about; null where it cannot be read. */
async function studyOf(
  options: RunNotebooksOptions,
  notebook: NotebookFile,
): Promise<{ readonly study: Study; readonly onDay: string | null } | null> {
  const value = (name: string) => {
    const given = options.parameters?.[name];
    return given === undefined ? parameterDefault(notebook, name) : String(given);
  };
  const [folder, day] = [value("studyFolder"), value("onDay")];
  if (folder === null) return null;
  try {
    const read = await readStudy(resolve(options.notebooks, folder));
    const study = options.withoutPeople ? leaveOutPeople(read) : read;
    return { study, onDay: day === "null" ? null : day };
  } catch (error) {
    // What is wrong with a study is said by the notebooks themselves.
    if (error instanceof UsageError) return null;
    throw error;
  }
}

/** The notebooks that the study's tables do not allow yet, each with what to add. */
function waitingFor(names: readonly string[], study: Study | undefined): Map<string, string> {
  if (study === undefined) return new Map();
  const { series } = askRecords(study).value;
  const hasEngine = engineIsInstalled();
  return new Map(
    names.flatMap((name) => {
      const needs = notebookNeeds(name, series, hasEngine);
      return needs === null ? [] : [[name, noticeText(needs)] as const];
    }),
  );
}

/** A failure with the cell's number and its source, so that it can be found and mended. */
export function failureText(failure: CellFailure): string {
  const where = failure.cell === null ? "before the first cell" : `in code cell ${failure.cell}`;
  const source = failure.source
    .split("\n")
    .map((line) => `    | ${line}`)
    .join("\n");
  const why = failure.why
    .split("\n")
    .map((line) => `    ${line}`)
    .join("\n");
  return `  Failed ${where}:\n${failure.source === "" ? "" : `${source}\n`}${why}`;
}

function chosenNotebooks(options: RunNotebooksOptions): string[] {
  const present = existsSync(options.notebooks)
    ? readdirSync(options.notebooks)
        .filter((file) => file.endsWith(".ipynb"))
        .map((file) => basename(file, ".ipynb"))
        .sort(startHereFirst)
    : [];
  if (present.length === 0) {
    throw new UsageError({
      needed: "a folder with notebooks (*.ipynb)",
      came: "there are none",
      where: relative(process.cwd(), options.notebooks) || ".",
      todo: "Run this in the project's folder, or name the folder with --notebooks.",
    });
  }
  const only = (options.only ?? []).map((name) => basename(name, ".ipynb"));
  for (const name of only) {
    if (present.includes(name)) continue;
    throw new UsageError({
      needed: `one of ${present.join(", ")}`,
      came: `${name} was asked for`,
      where: relative(process.cwd(), options.notebooks) || ".",
      todo: didYouMean(name, present) ?? "Check the spelling.",
    });
  }
  return only.length === 0 ? present : present.filter((name) => only.includes(name));
}

function startHereFirst(a: string, b: string): number {
  if (a === b) return 0;
  if (a === "start-here") return -1;
  if (b === "start-here") return 1;
  return a < b ? -1 : 1;
}

/** True when a notebook carries no outputs and no counts, as they are committed. */
export function hasNoOutputs(notebook: NotebookFile): boolean {
  return notebook.cells.every(
    (cell) => (cell.outputs ?? []).length === 0 && (cell.execution_count ?? null) === null,
  );
}
