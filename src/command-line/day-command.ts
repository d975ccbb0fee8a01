import { join, relative, resolve } from "node:path";
import type { Command } from "commander";
import {
  type AnsweringOptions,
  answering,
  progressLine,
  progressOf,
  sayAnswer,
} from "./answering.js";
import { cached } from "./cache-command.js";
import { dayInJson } from "./day-in-json.js";
import { civilDay, pageGiven } from "./option-values.js";

interface DayOptions extends AnsweringOptions {
  readonly out: string;
  readonly on?: string;
  readonly withoutPeople: boolean;
}

/** `gramline day FOLDER`: the day's board alone. */
export function dayCommand(program: Command): void {
  cached(answering(program.command("day")))
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
      const out = resolve(pageGiven("--out", options.out));
      const line = progressLine(options);
      const said: string[] = [];
      let json = {};
      const animals = await writeDay(folder, {
        out,
        withoutPeople: options.withoutPeople,
        onDecision: (sentence) => said.push(sentence),
        onAnswer: (answer, aboutDay) => {
          json = dayInJson(answer);
          said.push(...aboutDay);
        },
        onProgress: progressOf(line),
        now: Date.now(),
        ...onDay,
      });
      line.end();
      const page = relative(process.cwd(), out);
      sayAnswer(options, { kind: "day", ...json, said, written: [page] }, [
        ...said,
        `Animals in care: ${animals}. Open ${page}`,
      ]);
    });
}
