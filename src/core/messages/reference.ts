import type { Sentence } from "../wording.js";

/** Sentences of the `reference` room, by notice code. */
export const referenceMessages = {} satisfies Readonly<Record<string, Sentence>>;
