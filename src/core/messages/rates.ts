import type { Sentence } from "../wording.js";

/** Sentences of the `rates` room, by notice code. */
export const rateMessages = {} satisfies Readonly<Record<string, Sentence>>;
