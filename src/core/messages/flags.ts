import type { Sentence } from "../wording.js";

/** Sentences of the `flags` room, by notice code. */
export const flagMessages = {} satisfies Readonly<Record<string, Sentence>>;
