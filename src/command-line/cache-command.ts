import type { Command } from "commander";
import { cacheState, clearCache, leaveCacheAlone } from "../cache/disk-cache.js";
import { cannotWrite } from "../publish/write-whole.js";
import { type AnsweringOptions, answering, sayAnswer } from "./answering.js";

/** `gramline cache`: where answers are kept, and how to be rid of them. */
export function cacheCommand(program: Command): void {
  const cache = program
    .command("cache")
    .description("what was worked out before and is kept for the next run");
  answering(cache.command("show"))
    .description("say where it lies and how much it holds")
    .action((options: AnsweringOptions) => {
      const { folder, answers, bytes, isOff } = cacheState();
      sayAnswer(options, { kind: "cache", folder, answers, bytes, isOff }, [
        `${folder}: ${answers} answers, ${megabytes(bytes)} MB${isOff ? "; switched off by GRAMLINE_CACHE" : ""}`,
      ]);
    });
  answering(cache.command("clear"))
    .description("empty it; what is asked next is worked out anew")
    .action((options: AnsweringOptions) => {
      const { folder, answers } = cacheState();
      const bytes = emptied(folder);
      sayAnswer(options, { kind: "cache-clear", folder, answers, bytes }, [
        `${folder}: ${answers} answers removed, ${megabytes(bytes)} MB`,
      ]);
    });
}

function emptied(folder: string): number {
  try {
    return clearCache();
  } catch (error) {
    throw cannotWrite(folder, error as NodeJS.ErrnoException);
  }
}

const megabytes = (bytes: number) => (bytes / 2 ** 20).toFixed(1);

/**
 * Gives a command `--no-cache`. It and `--without-people` neither read nor write the
 * cache, and neither do the processes that the command starts.
 */
export function cached(command: Command): Command {
  return command
    .option("--no-cache", "work everything out anew: neither read nor write the cache")
    .hook("preAction", (asked) => {
      const { cache, withoutPeople } = asked.opts<{ cache: boolean; withoutPeople?: boolean }>();
      if (!cache || withoutPeople === true) leaveCacheAlone();
    });
}
