import type { Sentence } from "../wording.js";

/** Sentences of the `growth` room, by notice code. */
export const growthMessages = {} satisfies Readonly<Record<string, Sentence>>;
