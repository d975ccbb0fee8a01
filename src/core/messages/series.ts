import type { Sentence } from "../wording.js";

/** Sentences of the `series` room, by notice code. */
export const seriesMessages = {} satisfies Readonly<Record<string, Sentence>>;
