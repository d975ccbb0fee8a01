import type { Sentence } from "../wording.js";

/** Sentences of the `records` room, by notice code. */
export const recordMessages = {} satisfies Readonly<Record<string, Sentence>>;
