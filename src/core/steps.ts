import { type LongWork, type Progress, stopIfCancelled } from "./long-work.js";

/**
 * Long work in steps: it hands out how far it is, or nothing, where it may be left for a
 * moment or given up; what comes out does not hang on what is done in between.
 */
export type Steps<T> = Generator<Progress | undefined, T, void>;

/**
 * Runs all steps in one go, telling progress and hearing a signal between them.
 *
 * @example runSteps(countTo(3), { onProgress }) // told 1, 2, 3
 */
export function runSteps<T>(steps: Steps<T>, long: LongWork = {}): T {
  for (;;) {
    const answer = nextStep(steps, long);
    if (answer.done) return answer.value;
  }
}

/**
 * The same steps, with a turn for everything else (an interrupt, a page that is asked for, a bar
 * that is drawn) whenever they have run for a moment.
 *
 * @example await runStepsInTurns(countTo(3), { signal }) // rejects soon after the signal
 */
export async function runStepsInTurns<T>(steps: Steps<T>, long: LongWork = {}): Promise<T> {
  let since = Date.now();
  for (;;) {
    const answer = nextStep(steps, long);
    if (answer.done) return answer.value;
    if (Date.now() - since < turnMs) continue;
    await new Promise((resume) => setImmediate(resume));
    since = Date.now();
  }
}

/** Work runs so long before others get a turn. */
const turnMs = 50;

function nextStep<T>(steps: Steps<T>, { signal, onProgress }: LongWork) {
  stopIfCancelled(signal);
  const step = steps.next();
  if (!step.done && step.value !== undefined) onProgress?.(step.value);
  return step;
}
