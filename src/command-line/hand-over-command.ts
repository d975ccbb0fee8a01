import { dirname, join, relative, resolve } from "node:path";
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

interface HandOverOptions extends AnsweringOptions {
  readonly out: string;
  readonly sheet?: string;
  readonly on?: string;
  readonly withoutPeople: boolean;
}

/** `gramline hand-over FOLDER`: the page for the change of shift, and the sheet to print. */
export function handOverCommand(program: Command): void {
  cached(answering(program.command("hand-over")))
    .description(
      "write the hand-over page (the last 24 hours and the next feeds of every animal in care) and the feeding sheet to print",
    )
    .argument("<folder>", "folder with study.json and the tables")
    .option("--out <file>", "the page", join("out", "hand-over.html"))
    .option("--sheet <file>", "the feeding sheet (default: feeding-sheet.html beside the page)")
    .option(
      "--on <day>",
      "last feeding day to look at (default: the last on which rows stand together, not after the clock)",
    )
    .option("--without-people", "write only what names nobody", false)
    .action(async (folder: string, options: HandOverOptions) => {
      const onDay = options.on === undefined ? {} : { onDay: civilDay("--on", options.on) };
      const { writeHandOver } = await import("../publish/write-hand-over.js");
      const out = resolve(pageGiven("--out", options.out));
      const sheet =
        options.sheet === undefined
          ? join(dirname(out), "feeding-sheet.html")
          : resolve(pageGiven("--sheet", options.sheet));
      const line = progressLine(options);
      const said: string[] = [];
      let json = {};
      const animals = await writeHandOver(folder, {
        out,
        sheet,
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
      const shown = (file: string) => relative(process.cwd(), file);
      line.end();
      sayAnswer(
        options,
        { kind: "hand-over", ...json, said, written: [shown(out), shown(sheet)] },
        [...said, `Animals in care: ${animals}. Open ${shown(out)}; print ${shown(sheet)}`],
      );
    });
}
