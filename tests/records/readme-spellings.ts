import { orderSpellings } from "../../src/records/order-words.js";
import { signSpellings } from "../../src/series/signs/sign-spellings.js";

/** The README's table of how orders may be written, made from the lists the reader uses. */
export function orderSpellingsTable(): string {
  const cell = (text: string) => text.replaceAll("|", "\\|");
  const rows = orderSpellings().map(
    ({ column, written, readAs }) => `| \`${column}\` | ${cell(written)} | ${cell(readAs)} |`,
  );
  return ["| column | written | read as |", "|---|---|---|", ...rows].join("\n");
}

/** The README's table of how observations may be written. */
export function signSpellingsTable(): string {
  const cell = (word: string) => `\`${word.replaceAll("|", "\\|")}\``;
  const rows = signSpellings().map(
    ({ where, written, readAs }) => `| ${where} | ${written.map(cell).join(" ")} | ${readAs} |`,
  );
  return ["| kind | written | read as |", "|---|---|---|", ...rows].join("\n");
}

/** Puts the table of signs between its marks. */
export function withSignSpellings(readme: string): string {
  const [begin, end] = ["<!-- spellings of signs -->", "<!-- end of spellings of signs -->"];
  const from = readme.indexOf(begin);
  const to = readme.indexOf(end);
  if (from === -1 || to < from) return readme;
  return `${readme.slice(0, from)}${begin}\n\n${signSpellingsTable()}\n\n${readme.slice(to)}`;
}

/** Puts the table between its marks. */
export function withOrderSpellings(readme: string): string {
  const [begin, end] = ["<!-- spellings of orders -->", "<!-- end of spellings of orders -->"];
  const from = readme.indexOf(begin);
  const to = readme.indexOf(end);
  if (from === -1 || to < from) return readme;
  return `${readme.slice(0, from)}${begin}\n\n${orderSpellingsTable()}\n\n${readme.slice(to)}`;
}
