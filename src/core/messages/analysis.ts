import type { Sentence } from "../wording.js";

/** Sentences of the `analysis` room, by notice code. */
export const analysisMessages = {} satisfies Readonly<Record<string, Sentence>>;
