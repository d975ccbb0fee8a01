import type { LongWork, Progress } from "../core/long-work.js";
import type { MimeBundle } from "../report/renderers/notebook-file.js";
import { escapeHtml } from "../report/renderers/page/escape.js";
import { tslabDisplay } from "./tslab-display.js";

/**
 * Runs long work in a notebook: a bar that says what is being done from its first
 * step on, gone again at the end; and the front end's stop button (an
 * interrupt) cancels it at its next step, says so in the bar's place, and nothing goes on unseen. Outside a
 * notebook the work runs as it is.
 *
 * Rejects with what the work rejects with; "Stopped" after an interrupt.
 *
 * @param work is handed `signal` and `onProgress`, to be passed on to a question.
 * @example await withProgress(async ({ onProgress }) => { onProgress?.({ done: 1, total: 2, doing: "half" }); return 7; }) // 7
 */
export async function withProgress<T>(work: (long: LongWork) => Promise<T>): Promise<T> {
  const adapter = tslabDisplay();
  if (adapter === null) return work({});
  const stop = new AbortController();
  const interrupt = () => stop.abort(new Error(stopped));
  // While the first part of a cell runs, up to its first wait, Node holds this signal itself
  // (`breakOnSigint`) and afterwards lets it end the process, if a listener came meanwhile.
  await new Promise((resume) => setImmediate(resume));
  process.once("SIGINT", interrupt);
  const show = adapter.updatable();
  let last = 0;
  const onProgress = (progress: Progress) => {
    const now = Date.now();
    if (now - last < betweenMs) return;
    last = now;
    show(progressBundle(progress));
  };
  try {
    return await work({ signal: stop.signal, onProgress });
  } finally {
    process.removeListener("SIGINT", interrupt);
    // The kernel's own word for an interrupt is no sentence.
    if (stop.signal.aborted) show({ "text/plain": stopped });
    else if (last > 0) show(emptyBundle);
  }
}

const stopped = "Stopped: nothing of this question goes on. Run the cell again to ask it anew.";

/** A bar is drawn anew at most so often. */
const betweenMs = 200;

/** What stands in place of a bar when the work has ended. */
export const emptyBundle: MimeBundle = { "text/plain": "" };

function progressBundle({ done, total, doing }: Progress): MimeBundle {
  const words = `${done} of ${total}: ${doing}`;
  return {
    "text/html": `<div><progress max="${total}" value="${done}" aria-label="${escapeHtml(words)}"></progress> ${escapeHtml(words)}</div>`,
    "text/plain": words,
  };
}
