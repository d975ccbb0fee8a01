import { type Notice, notice } from "../../src/core/notice.js";
import type { Given } from "../../src/core/wording.js";
import { say } from "../../src/report/section/say.js";

/**
 * What must not compile. `npm run types` reads this file: a line under
 * `@ts-expect-error` that does compile is a fault there.
 */
export const refused: readonly (() => unknown)[] = [
  // @ts-expect-error A code misspelt.
  () => notice("flag-no-temperatur", "info", { animal: "P1" }),
  // @ts-expect-error A code put together that is none.
  (kind: "coat" | "tail") => notice(`ask-${kind}`, "info", {}),
  // @ts-expect-error A parameter missing.
  () => notice("records-refused-more", "problem", { refused: 20 }),
  // @ts-expect-error All parameters missing.
  () => notice("records-refused-more", "problem"),
  // @ts-expect-error A parameter misspelt.
  () => notice("records-refused-more", "problem", { refused: 20, offred: 10 }),
  // @ts-expect-error A parameter too many.
  () => notice("records-refused-more", "problem", { refused: 20, offered: 10, unit: "g" }),
  // @ts-expect-error A parameter too many, brought by a variable.
  (more: { unit: string }) => notice("flags-no-diagnosis", "info", more),
  // @ts-expect-error A parameter too many, spread in.
  (m: { unit: string }) => notice("records-refused-more", "info", { refused: 2, offered: 1, ...m }),
  // @ts-expect-error A word where a number belongs.
  () => notice("records-refused-more", "problem", { refused: "20 g", offered: 10 }),
  // @ts-expect-error One of two codes needs what is not given.
  (a: boolean) => notice(a ? "flags-no-diagnosis" : "records-refused-more", "info", {}),
  // @ts-expect-error A level that is none.
  () => notice("flags-no-diagnosis", "warning"),
  // @ts-expect-error A notice compared with a code that is none.
  (n: Notice) => n.code === "flag-no-temperatur",
  // @ts-expect-error A sentence said under a code that is none.
  () => say("hand-over-nobdy"),
  // @ts-expect-error A sentence that reads what it does not declare.
  (p: Given<{ n: number }>) => p.text("animal"),
  // @ts-expect-error A sentence that reads a word as an instant.
  (p: Given<{ day: string }>) => p.instant("day"),
];
