import { join, relative, resolve } from "node:path";
import type { Command } from "commander";
import { civilDay } from "./option-values.js";

interface DayOptions {
  readonly out: string;
  readonly on?: string;
  readonly withoutPeople: boolean;
}

/** `gramline day FOLDER`: the day's board alone. */
export function dayCommand(program: Command): void {
  program
    .command("day")
    .description(
      "write the day's board: every animal in care on a line, those of most concern first, what to do and by when",
    )
    .argument("<folder>", "folder with study.json and the tables")
    .option("--out <file>", "the page", join("out", "day.html"))
    .option(
      "--on <day>",
      "last feeding day to look at (default: the last on which rows stand together, not after the clock)",
    )
    .option("--without-people", "write only what names nobody", false)
    .action(async (folder: string, options: DayOptions) => {
      const onDay = options.on === undefined ? {} : { onDay: civilDay("--on", options.on) };
      const { writeDay } = await import("../publish/write-day.js");
      const out = resolve(options.out);
      const animals = await writeDay(folder, {
        out,
        withoutPeople: options.withoutPeople,
        onDecision: (sentence) => console.log(sentence),
        now: Date.now(),
        ...onDay,
      });
      console.log(`Animals in care: ${animals}. Open ${relative(process.cwd(), out)}`);
    });
}
