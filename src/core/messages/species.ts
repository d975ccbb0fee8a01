import type { Sentence } from "../wording.js";

/** Sentences of the `species` room, by notice code. */
export const speciesMessages = {} satisfies Readonly<Record<string, Sentence>>;
