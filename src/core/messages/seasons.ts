import type { Sentence } from "../wording.js";

/** Sentences of the `seasons` room, by notice code. */
export const seasonMessages = {} satisfies Readonly<Record<string, Sentence>>;
