import { type Command, CommanderError } from "commander";
import { UsageError } from "../core/usage-error.js";
import { sayJson, sayWrong, withoutLongQuotes } from "./on-screen.js";

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
export function endedBy(thrown: unknown, args: readonly string[], program: Command): number {
  if (thrown instanceof CommanderError && thrown.exitCode === 0) return exitCodes.done;
  // Nothing was typed: the help that was printed is the answer.
  if (thrown instanceof CommanderError && thrown.code === "commander.help")
    return exitCodes.notDone;
  const error = thrown instanceof CommanderError ? mistakeInLine(thrown, args, program) : thrown;
  const json = args.includes("--json");
  if (!(error instanceof UsageError)) {
    console.error(error);
    console.error(
      "\ngramline: this is a fault of gramline, not of your records; nothing of them was changed. Please report the lines above.",
    );
    return exitCodes.ownFault;
  }
  const { needed, came, where, todo } = error;
  if (json) sayJson({ kind: "error", schema: 1, needed, came, where, todo });
  else {
    const said = withoutLongQuotes(error.message);
    sayWrong(where.startsWith("gramline") ? said : `gramline: ${said}`);
  }
  return exitCodes.notDone;
}

/** What the reader of the line found wrong, in the form of every other mistake. */
function mistakeInLine(
  { message, code }: CommanderError,
  args: readonly string[],
  program: Command,
): UsageError {
  const command = commandOf(program, args);
  const where = namesUpTo(command);
  const help = `${where} --help says what it takes.`;
  const meant = /\(Did you mean (?:one of )?(.+?)\?\)/s.exec(message)?.[1];
  const said = message
    .replace(/^error: /, "")
    .replace(/\s*\(Did you mean.*$/s, "")
    .replaceAll("'", '"')
    .replace(/\.$/, "");
  const name = /"([^"]*)"/.exec(said)?.[1] ?? "";
  if (/^commander\.(missing|optionMissing)/.test(code)) {
    // An option's name comes with what is to stand after it, an argument's bare.
    const needed = name.startsWith("-") ? name : `<${name}>`;
    return new UsageError({ needed, came: "it was not given", where, todo: help });
  }
  const counted = /Expected (.+?) but got (\d+)/.exec(said);
  if (counted !== null)
    return new UsageError({ needed: counted[1]!, came: `${counted[2]} came`, where, todo: help });
  const unknown = /^commander\.unknown(Option|Command)$/.exec(code)?.[1]?.toLowerCase();
  if (unknown === undefined)
    return new UsageError({ needed: "a line that can be read", came: said, where, todo: help });
  const near = sameDay(name, command) ?? meant?.replaceAll(", ", " or ");
  const known = command.options.flatMap(({ long }) => long ?? []).join(", ");
  const all = unknown === "option" && known !== "" ? `It takes ${known}. ${help}` : help;
  return new UsageError({
    needed: `one of its ${unknown}s`,
    came: `"${name}" is none`,
    where,
    todo: near === undefined ? all : `Is ${near} meant?`,
  });
}

/** The command that a line is for, a command within a command included. */
function commandOf(program: Command, [name, ...rest]: readonly string[]): Command {
  const own = program.commands.find((each) => each.name() === name);
  return own === undefined ? program : commandOf(own, rest);
}

const namesUpTo = (command: Command): string =>
  command.parent === null ? command.name() : `${namesUpTo(command.parent)} ${command.name()}`;

/** Some commands look at a day and others bear a date: whoever writes the other name is told. */
function sameDay(written: string, command: Command): string | undefined {
  const names = ["--on", "--date", "--day"];
  if (!names.includes(written)) return undefined;
  return names.find((name) => command.options.some(({ long }) => long === name));
}
