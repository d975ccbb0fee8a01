import { createHash } from "node:crypto";
import type { Remembered } from "../core/remembered.js";
import { openCache } from "./disk-cache.js";
import { programDigest } from "./program-digest.js";

/**
 * Pictures drawn before by this program, each under a digest of all that it was drawn from, so
 * that the next day's report draws anew what has changed; null where nothing is kept.
 *
 * @param folder the study's, which the cache stays out of.
 * @example keptPictures("data-demo")?.recall(JSON.stringify(chart)) // null, the first time
 */
export function keptPictures(folder: string): Remembered | null {
  const cache = openCache(folder);
  if (cache === null) return null;
  const about = (question: string) =>
    `drawn ${createHash("sha256").update(programDigest()).update(question).digest("hex")}`;
  return {
    recall: (question) => cache.recall(about(question)),
    keep: (question, value) => cache.keep(about(question), value),
  };
}
