import { dataDictionary } from "../../../src/records/data-dictionary.js";
import { asIs, code, type DocPage, mdTable } from "../page.js";

/** Every column of every table, from the list that the reader of records uses. */
export function columnsPage(): DocPage {
  const all = dataDictionary();
  const tables = [...new Set(all.map((entry) => entry.table))];
  const parts = tables.map((table) => {
    const rows = all
      .filter((entry) => entry.table === table)
      .map((entry) => [
        code(entry.column),
        `${asIs(entry.holds)}${entry.required ? ", **needed**" : ""}`,
        asIs(entry.unit),
        entry.allowed.map(code).join(" "),
        asIs(entry.about),
      ]);
    return `## ${table}\n\n${mdTable(["column", "holds", "unit", "one of", "what it is"], rows)}`;
  });
  return {
    name: "columns",
    markdown: `# Tables and columns

Only \`animals\` and \`weighings\` are needed; every other table adds answers. A column that is **needed** sets its row aside where it is blank or cannot be read; any other cell that cannot be read is lost alone, with a notice. Your own headings may differ: \`gramline check\` proposes what they mean. How cells may be written stands under [Accepted spellings](spellings.md).

${parts.join("\n\n")}`,
  };
}
