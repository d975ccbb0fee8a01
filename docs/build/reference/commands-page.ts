import type { Command } from "commander";
import { exitCodesText } from "../../../src/command-line/exit-codes.js";
import { everyCommand } from "../../../src/command-line/run-command.js";
import { asIs, code, type DocPage, mdTable } from "../page.js";
import { jsonAnswers } from "./json-answers.js";

/** Every command with its options, from the program itself. */
export function commandsPage(): DocPage {
  const parts = everyCommand()
    .commands.flatMap((command) => [command, ...command.commands])
    .map(commandPart)
    .sort();
  return {
    name: "commands",
    markdown: `# Commands

Typed in the folder where gramline lies, or anywhere it is installed, as \`npx gramline COMMAND\`. Every path is seen from the folder you are in.

${parts.join("\n\n")}

## What \`--json\` prints

One object with \`kind\`, \`schema\` (1: a part may be added, none taken away or given another meaning) and the parts below; \`watch\` prints one object a line as things happen. The commands of [archives](archive.md) print there what they say in words.

${Object.entries(jsonAnswers)
  .map(([kind, parts]) => `### ${kind}\n\n${partsTable(parts)}`)
  .join("\n\n")}

## What a command ends with

${asIs(exitCodesText.replace(/^\s*Exit codes:\s*/, ""))}`,
  };
}

const partsTable = (parts: Readonly<Record<string, string>>) =>
  mdTable(
    ["part", "holds"],
    Object.entries(parts).map(([name, about]) => [code(name), asIs(about)]),
  );

function commandPart(command: Command): string {
  const takes = command.registeredArguments
    .map((each) => (each.required ? `<${each.name()}>` : `[${each.name()}]`))
    .join(" ");
  const rows = command.options.map((option) => [
    code(option.flags),
    asIs(option.description),
    option.defaultValue === undefined || option.defaultValue === false
      ? ""
      : code(String(option.defaultValue)),
  ]);
  const about = asIs(command.description());
  const above = command.parent?.parent == null ? "" : `${command.parent.name()} `;
  const name = `${above}${command.name()}`;
  return [
    `## gramline ${name}`,
    `${code(`gramline ${name} ${takes}`.trim())}: ${about}.`,
    rows.length === 0 ? "" : mdTable(["option", "does", "usual value"], rows),
  ]
    .filter((part) => part !== "")
    .join("\n\n");
}
