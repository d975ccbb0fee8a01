import { createHash } from "node:crypto";
import type { LongWork } from "../core/long-work.js";
import { carryRemembered } from "../core/remembered.js";
import { readStudy as readFiles } from "../records/files/read-study.js";
import type { Study } from "../records/study.js";
import { openCache } from "./disk-cache.js";
import { programDigest } from "./program-digest.js";

/**
 * Reads a study folder: study.json and the tables beside it. What is asked of the study as
 * it was read is kept in the user's cache folder (see `GRAMLINE_CACHE`), so that the next
 * run on the same files need not work it out again; a changed copy of it is not. The study
 * is frozen: what is kept would not fit one that was changed.
 *
 * Tells where it is, and hears a signal, between two tables.
 *
 * @throws UsageError when the folder is not there, study.json or a required
 *   table or column is missing. Bad rows never throw; they are set aside.
 * @example (await readStudy("data-demo")).settings.title
 */
export async function readStudy(folder: string, work: LongWork = {}): Promise<Study> {
  const study = frozen(await readFiles(folder, work));
  const cache = openCache(folder);
  if (cache === null) return study;
  const about = digestOf(study);
  return carryRemembered(study, {
    recall: (question) => cache.recall(`${about} ${question}`),
    keep: (question, value) => cache.keep(`${about} ${question}`, value),
  });
}

/** Every file that was read, by name and content, and the program that reads it. */
function digestOf(study: Study): string {
  const files = study.inputs.map(({ path, sha256 }) => [path, sha256]);
  return createHash("sha256")
    .update(JSON.stringify([programDigest(), files]))
    .digest("hex");
}

/** Plain objects and lists all the way down; the outermost one still takes what it carries. */
function frozen(study: Study): Study {
  for (const part of Object.values(study)) freezeDown(part);
  return study;
}

function freezeDown(value: unknown): void {
  if (typeof value !== "object" || value === null || Object.isFrozen(value)) return;
  const make = Object.getPrototypeOf(value);
  if (make !== Object.prototype && make !== Array.prototype) return;
  Object.freeze(value);
  for (const inner of Object.values(value)) freezeDown(inner);
}
