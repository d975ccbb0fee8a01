import { CommanderError } from "commander";
import { UsageError } from "../core/usage-error.js";

/** What the code means that a command ends with, the same for every command. */
export const exitCodes = {
  done: 0,
  /** Done, and something in it asks for somebody: rows set aside, a notebook that failed. */
  lookAtIt: 1,
  /** Not done: an option, a file or a folder is not as it must be; the sentence says how. */
  notDone: 2,
  /** Not done by a fault of gramline. */
  ownFault: 3,
} as const;

export const exitCodesText = `
Exit codes: 0 done; 1 done, and something in it asks for somebody (rows set aside, a
notebook that failed, something missing); 2 not done, and the sentence says what was
needed, what came and what to do; 3 a fault of gramline itself; 130 ended by Ctrl-C.`;

/**
 * Says what ended a command and gives its exit code: a person's mistake is one sentence,
 * or its parts as JSON; anything else keeps its trace, because it is ours.
 */
export function endedBy(error: unknown, json: boolean): number {
  if (error instanceof CommanderError)
    return error.exitCode === 0 ? exitCodes.done : exitCodes.notDone;
  if (!(error instanceof UsageError)) {
    console.error(error);
    console.error(
      "\ngramline: this is a fault of gramline, not of your records; nothing of them was changed. Please report the lines above.",
    );
    return exitCodes.ownFault;
  }
  const { needed, came, where, todo } = error;
  if (json) console.log(JSON.stringify({ kind: "error", schema: 1, needed, came, where, todo }));
  else console.error(`gramline: ${error.message}`);
  return exitCodes.notDone;
}
