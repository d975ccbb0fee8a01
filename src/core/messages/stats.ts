import type { Sentence } from "../wording.js";

/** Sentences of the `stats` room, by notice code. */
export const statsMessages = {} satisfies Readonly<Record<string, Sentence>>;
