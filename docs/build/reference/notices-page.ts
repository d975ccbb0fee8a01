import { explainableWords, explainWord } from "../../../src/analysis/explain-word.js";
import { noticeText, sentenceShape } from "../../../src/core/catalogue.js";
import { asIs, code, type DocPage, mdTable } from "../page.js";

/** Every level, flag, reason, method and notice, from the catalogue that the pages use. */
export function noticesPage(): DocPage {
  const { level, flag, reason, method, sentence } = explainableWords();
  const explained = (words: readonly string[]) =>
    words.map((word) => {
      const found = explainWord(word);
      if (found === null) throw new Error(`"${word}" is listed and cannot be explained`);
      const said = found.sentences.map((s) => asIs(s.shape)).join(" / ");
      return [`**${asIs(word)}**`, asIs(noticeText(found.meaning)), said];
    });
  const shapes = (codes: readonly string[]) =>
    codes.map((each) => [code(each), asIs(sentenceShape(each) ?? "")]);
  const heads = ["word", "what it means", "as pages say it"];
  return {
    name: "notices",
    markdown: `# Levels, flags and notices

Every sentence that a page may say, with \`<name>\` for what comes from the records. \`npx gramline explain\` prints the same on a terminal: \`npx gramline explain missed feed\`, or the code of a notice.

## Levels

${mdTable(
  heads.slice(0, 2),
  explained(level).map((row) => row.slice(0, 2)),
)}

## Flags

${mdTable(heads, explained(flag))}

## Reasons for a level

${mdTable(heads, explained(reason))}

## Methods

${mdTable(["code", "sentence"], shapes(method))}

## Notices

${byRoom(sentence)
  .map(([room, codes]) => `### ${room}\n\n${mdTable(["code", "sentence"], shapes(codes))}`)
  .join("\n\n")}`,
  };
}

/** Codes by their first word, which says what they are about. */
function byRoom(codes: readonly string[]): [string, string[]][] {
  const rooms = new Map<string, string[]>();
  for (const each of [...codes].sort()) {
    const room = each.split("-")[0]!;
    rooms.set(room, [...(rooms.get(room) ?? []), each]);
  }
  return [...rooms];
}
