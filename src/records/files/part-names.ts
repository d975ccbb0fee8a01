import { randomBytes } from "node:crypto";
import { isRunning } from "./is-running.js";

/**
 * The ending of a file that is being written: it says by whom, so that what a killed process
 * left is known.
 *
 * @example partEnding() // ".4711-9f86d081.part"
 */
export const partEnding = () => `.${process.pid}-${randomBytes(4).toString("hex")}.part`;

/** Whether a file is being written, by its name: by a process that runs, or left by one that is gone. */
export function partState(name: string): "no part" | "being written" | "left" {
  const pid = /\.(\d+)-[0-9a-f]{8}\.part$/.exec(name)?.[1];
  if (pid === undefined) return "no part";
  return isRunning(Number(pid)) ? "being written" : "left";
}
