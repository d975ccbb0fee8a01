import { askHandOver } from "../analysis/ask-hand-over.js";
import { leaveOutPeople } from "../analysis/leave-out-people.js";
import { UsageError } from "../core/usage-error.js";
import type { KeptWatch } from "../flags/find-flags.js";
import { pagesOfDay } from "../publish/pages-of-day.js";
import { filesOfStudy, type KeptFiles, readFolder } from "../records/files/read-study.js";
import { parseStudy } from "../records/parse-study.js";
import type { Study } from "../records/study.js";
import { escapeHtml } from "../report/renderers/page/escape.js";
import { pageFrame } from "../report/renderers/page/page-frame.js";
import { minuteMs } from "../units/minute-ms.js";
import type { ReadStudy } from "./check.js";
import { stillnessAsked, type TakenFiles } from "./half-saved.js";
import { withReload } from "./reload-script.js";
import type { ServedPages } from "./serve-pages.js";

export interface WatchOptions {
  readonly onDay?: string;
  readonly withoutPeople: boolean;
  /** The clock; the command line alone reads it. */
  readonly now: () => number;
  /** Told after every making: what was read, how long it took, or what is wrong. */
  readonly onMade: (made: Made) => void | Promise<void>;
}

/** What came of one look at the records. */
export interface Made {
  /** Null where nothing could be read. */
  readonly read: ReadStudy | null;
  readonly seconds: number;
  readonly trouble: string | null;
  /** Nothing was saved: time has gone on. */
  readonly byClock: boolean;
}

export interface Watch {
  current(): ServedPages;
  /**
   * Makes the pages once more and throws them away: what the engine compiles of a program that
   * has run is faster, so that the first save does not wait longer than those after it. Given up
   * as soon as something is saved.
   */
  rehearse(): Promise<void>;
  /** Gives a rehearsal up. */
  stop(): void;
  /** Looks at the folder; makes the pages where something has been saved since. */
  look(): Promise<void>;
}

/** Files that change are left alone until they have been still for so long. */
const stillMs = 400;
/** Silence is judged by the clock: pages are made again also when nothing was saved. */
const anewMs = 5 * minuteMs;
/** After two the engine has compiled most of what a making runs. */
const rehearsals = 2;
/** A file may be locked without being changed. */
const againMs = 3000;

/**
 * Keeps the pages of a study's day as new as its files. A file that is still being
 * written is waited for; where the records cannot be read, the last pages stay and say
 * so. What was read and what the watch over weighings has come to are kept from look to
 * look, so that one more row costs little.
 *
 * @example const watch = watchStudy("../my-nursery", options); await watch.look();
 */
export function watchStudy(folder: string, options: WatchOptions): Watch {
  const files: KeptFiles = new Map();
  const kept: KeptWatch = { history: "begin" };
  let served: ServedPages = { version: 0, stand: 0, pages: new Map(), trouble: null };
  let taken: TakenFiles = new Map();
  let seen = "";
  let seenAt = Number.NEGATIVE_INFINITY;
  let made = "";
  let madeAt = Number.NEGATIVE_INFINITY;
  let trouble: string | null = null;
  let rehearsal = new AbortController();

  const pagesOf = async (read: Study, signal?: AbortSignal) => {
    const study = options.withoutPeople ? leaveOutPeople(read) : read;
    const { value: answer } = await askHandOver(study, {
      kept,
      now: options.now(),
      ...(options.onDay === undefined ? {} : { onDay: options.onDay }),
      ...(signal === undefined ? {} : { signal }),
    });
    return [...pagesOfDay(answer, study.tables.diets)];
  };

  const make = async (byClock: boolean) => {
    const before = trouble;
    const started = performance.now();
    let done: ReadStudy | null = null;
    trouble = null;
    try {
      const inputs = await readFolder(folder, files);
      taken = new Map(inputs.map(({ path, bytes }) => [path, bytes]));
      const read = parseStudy(inputs);
      done = { inputs, study: read };
      const version = served.version + 1;
      const pages = (await pagesOf(read)).map(
        ([name, html]) => [name, withReload(html, version)] as const,
      );
      served = { version, stand: served.stand + 1, pages: new Map(pages), trouble: null };
    } catch (error) {
      trouble = troubleOf(error);
      if (trouble === before) return;
      const { version, stand, pages } = served;
      // What cannot be read is repeated on no page that names nobody; the terminal says it.
      const shown = options.withoutPeople ? untold : trouble;
      served =
        version === 0
          ? { version, stand: stand + 1, pages: onlyTrouble(shown), trouble: null }
          : { version, stand: stand + 1, pages, trouble: `${shown} ${stays}` };
    }
    const seconds = (performance.now() - started) / 1000;
    await options.onMade({ read: done, seconds, trouble, byClock });
  };

  /** What cannot be read is said at once. */
  const asked = async () => {
    const inputs = await readFolder(folder, files).catch(() => []);
    return inputs.length === 0 ? 0 : stillnessAsked(taken, inputs);
  };

  return {
    current: () => served,
    rehearse: async () => {
      rehearsal = new AbortController();
      const { signal } = rehearsal;
      try {
        for (let i = 0; i < rehearsals && trouble === null && !signal.aborted; i++)
          await pagesOf(parseStudy(await readFolder(folder, new Map(files))), signal);
      } catch {
        // Given up, or unreadable: what is really made says why.
      }
    },
    stop: () => rehearsal.abort(),
    look: async () => {
      const now = performance.now();
      const stamps = await stampsOf(folder);
      if (stamps !== seen) {
        rehearsal.abort();
        seen = stamps;
        // At the very first look nothing can be told from what was there before.
        if (made !== "") seenAt = now;
      }
      const isStill = now - seenAt >= stillMs;
      const byClock = seen === made;
      if (!isStill || (byClock && now - madeAt < (trouble === null ? anewMs : againMs))) return;
      if (!byClock && now - seenAt < (await asked())) return;
      made = seen;
      await make(byClock);
      madeAt = performance.now();
    },
  };
}

const untold = "The records cannot be read: the terminal in which this was started says why.";
const stays = "This page still shows the records as they were read before.";

/** Until the records can be read for the first time. */
function onlyTrouble(trouble: string): Map<string, string> {
  const page = pageFrame({
    title: "The records cannot be read yet",
    body: `<h1>The records cannot be read yet</h1>\n<p>${escapeHtml(trouble)}</p>`,
    foot: "This page changes by itself as soon as they can.",
  });
  return new Map([["index.html", withReload(page, 0)]]);
}

/** Every file with its stamp; a folder that cannot be listed has one of its own. */
async function stampsOf(folder: string): Promise<string> {
  try {
    return (await filesOfStudy(folder)).map((f) => `${f.name} ${f.stamp}`).join("\n");
  } catch (error) {
    return `not listed: ${troubleOf(error)}`;
  }
}

/** A sentence for what a person did; anything else is ours and ends the watch. */
function troubleOf(error: unknown): string {
  if (error instanceof UsageError) return `The records cannot be read: ${error.message}`;
  throw error;
}
