import type { Sentence } from "../wording.js";

/** Sentences of the `planning` room, by notice code. */
export const planningMessages = {} satisfies Readonly<Record<string, Sentence>>;
