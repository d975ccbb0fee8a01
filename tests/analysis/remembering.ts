import { carryRemembered } from "../../src/core/remembered.js";

/**
 * The same study, which remembers what is asked of it as one that was read from a folder
 * does: questions that share a day are not worked out anew for each.
 */
export function remembering<T extends object>(study: T): T {
  const kept = new Map<string, unknown>();
  return carryRemembered(study, {
    recall: (question) =>
      kept.has(question) ? { value: structuredClone(kept.get(question)) } : null,
    keep: (question, value) => void kept.set(question, value),
  });
}
