import { asIs, code, type DocPage, mdTable } from "../page.js";
import { type BenchResult, benchResults } from "./bench-results.js";
import { readClaims } from "./claims.js";

/** Every claim with its bench, seed, date and figures; then every committed result in full. */
export function validationPage(): DocPage {
  const claims = readClaims().map(({ claim, figures, bench, result }) => [
    asIs(claim),
    asIs(figures),
    `[${bench}](#${bench})`,
    asIs(result.seed),
    asIs(result.date),
  ]);
  return {
    name: "validation",
    markdown: `# Benches: what was measured

Made from the results that lie with the code in \`tests/bench/results\`; nothing here is typed by hand. Seeds were fixed before the first run. Everything is measured in **invented nurseries**: they show what the arithmetic does where the truth is known, not what happens in yours. Worlds called held out were made by other rules than those the library was tuned on.

> **Caution.** A share of 100 from few runs moves by several by chance alone. The counts stand in the tables below.

## Claims

${mdTable(["claim", "figures", "bench", "seed", "date"], claims)}

## Every result

To run one again: \`npm run bench\` and its name.

${benchResults().map(resultPart).join("\n\n")}`,
  };
}

function resultPart(result: BenchResult): string {
  const about = result.about === null ? "" : `${asIs(result.about)}\n\n`;
  return `### ${result.name}

${about}Date ${asIs(result.date)}; seed ${asIs(result.seed)}; machine ${asIs(result.machine)}.

${valuePart(result.data)}`;
}

const aside = new Set(["bench", "date", "machine", "node", "seed", "seeds", "firstSeed"]);
/** Longer lists are in the file. */
const mostRows = 60;
const mostFacts = 60;

/** Lists of rows as tables, single values as a list. */
function valuePart(data: Readonly<Record<string, unknown>>): string {
  const facts: string[] = [];
  const tables: string[] = [];
  for (const [name, value] of Object.entries(data)) {
    if (aside.has(name)) continue;
    if (isRows(value)) tables.push(rowsPart(name, value));
    else for (const [path, one] of flat(value, name)) facts.push(`- ${asIs(path)}: ${shown(one)}`);
  }
  const more = facts.length - mostFacts;
  const rest = more > 0 ? [`- and ${more} more in the file`] : [];
  return [[...facts.slice(0, mostFacts), ...rest].join("\n"), ...tables]
    .filter((part) => part !== "")
    .join("\n\n");
}

function rowsPart(name: string, all: readonly Readonly<Record<string, unknown>>[]): string {
  const lines = all.slice(0, mostRows).map((row) => new Map(flat(row, "")));
  const columns = [...new Set(lines.flatMap((line) => [...line.keys()]))];
  const cells = lines.map((line) =>
    columns.map((column) => (line.has(column) ? shown(line.get(column)) : "")),
  );
  const more = all.length > mostRows ? `\n\n${all.length - mostRows} more rows in the file.` : "";
  return `${code(name)}, ${all.length} rows:\n\n${mdTable(columns.map(asIs), cells)}${more}`;
}

const isRows = (value: unknown): value is readonly Readonly<Record<string, unknown>>[] =>
  Array.isArray(value) &&
  value.length > 0 &&
  value.every((each) => typeof each === "object" && each !== null && !Array.isArray(each));

/** Values by their path; what lies deeper than three steps stays together. */
function flat(value: unknown, path: string, depth = 0): [string, unknown][] {
  if (typeof value !== "object" || value === null || Array.isArray(value) || depth > 2)
    return [[path, value]];
  return Object.entries(value).flatMap(([key, inner]) =>
    flat(inner, path === "" ? key : `${path}, ${key}`, depth + 1),
  );
}

function shown(value: unknown): string {
  if (value === null || value === undefined) return "";
  if (typeof value === "number") return `${Number(value.toPrecision(5))}`;
  const text = typeof value === "string" ? value : JSON.stringify(value);
  return asIs(text.length > 160 ? `${text.slice(0, 157)}...` : text);
}
