import type { Command } from "commander";
import { type ExplainedWord, explainableWords, explainWord } from "../analysis/explain-word.js";
import { noticeText } from "../core/catalogue.js";
import { UsageError } from "../core/usage-error.js";
import { type AnsweringOptions, answering, sayAnswer } from "./answering.js";
import { didYouMean } from "./did-you-mean.js";
import { wrapText } from "./wrap-text.js";

/** `gramline explain WORD`: what a word of the pages means, from the pages' own catalogue. */
export function explainCommand(program: Command): void {
  answering(program.command("explain"))
    .description(
      "say in plain words what a level, a flag, a reason, a method or the code of a notice means, with its source",
    )
    .argument(
      "[word...]",
      "for example: explain missed feed; without a word, all that can be explained",
    )
    .action((words: string[], options: AnsweringOptions) => {
      const width = Math.max(40, process.stdout.columns ?? 100);
      const wrapped = (lines: readonly string[]) => lines.flatMap((line) => wrapText(line, width));
      if (words.length === 0) {
        const all = explainableWords();
        sayAnswer(options, { kind: "explain", words: all }, wrapped(listOf(all)));
        return;
      }
      const found = explained(words.join(" "));
      const meaning = noticeText(found.meaning);
      const lines = [
        `${found.word} (${kindWords[found.kind]})`,
        "",
        meaning,
        ...(found.sentences.length === 0
          ? []
          : ["", "On the pages, with <> for what comes from the records:"]),
        ...found.sentences.map(({ code, shape }) => `  ${shape} (${code})`),
      ];
      const { word, kind: is, sentences } = found;
      sayAnswer(options, { kind: "explain", word, is, meaning, sentences }, wrapped(lines));
    });
}

const kindWords: Readonly<Record<ExplainedWord["kind"], string>> = {
  level: "a level: where an animal stands",
  flag: "a flag",
  reason: "a reason for a level",
  method: "a method",
  sentence: "a sentence of the pages",
};

/** The word explained, or what comes nearest to it. */
function explained(word: string): ExplainedWord {
  const found = explainWord(word);
  if (found !== null) return found;
  const all = Object.values(explainableWords()).flat();
  const parts = word.toLowerCase().split(/[\s-]+/);
  const holding = all.filter((each) => parts.every((part) => each.includes(part))).slice(0, 8);
  throw new UsageError({
    needed: "a word or a code that the pages use",
    came: `"${word}" is none`,
    where: "gramline explain",
    todo:
      didYouMean(word.toLowerCase(), all) ??
      (holding.length > 0
        ? `Is one of these meant: ${holding.join(", ")}?`
        : "gramline explain, without a word, lists all."),
  });
}

function listOf(all: ReturnType<typeof explainableWords>): string[] {
  return (Object.entries(all) as [ExplainedWord["kind"], readonly string[]][]).flatMap(
    ([kind, words]) => [`${kindWords[kind]}:`, `  ${words.join(", ")}`, ""],
  );
}
