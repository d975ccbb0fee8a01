import { readFileSync } from "node:fs";
import { libraryVersion } from "../../../src/publish/version.js";
import { agreement } from "../../../tests/truth/agreement/agreement.js";
import { type Comparison, digitsOf } from "../../../tests/truth/agreement/comparison.js";
import { asIs, mdTable } from "../page.js";

/** The report on what the arithmetic was held against, worked out anew. */
export interface AgreementReport {
  readonly markdown: string;
  /** Every comparison, one a line. */
  readonly csv: string;
  readonly compared: number;
}

/** Runs every comparison and writes it up; digits are counted, none is typed. */
export function agreementReport(): AgreementReport {
  const all = agreement().map((each) => ({ ...each, digits: digitsOf(each) }));
  const sources = [...new Set(all.map((each) => each.source))];
  const overview = sources.map((source) => {
    const some = all.filter((each) => each.source === source);
    const digits = some.map((each) => each.digits).sort((a, b) => a - b);
    return [
      asIs(source),
      `${some.length}`,
      digits[0]!.toFixed(1),
      digits[Math.floor(digits.length / 2)]!.toFixed(1),
    ];
  });
  const markdown = `# Checked against: the validation report

${all.length} numbers worked out by gramline ${libraryVersion()} and held against the same numbers from outside the project. **Digits** are the leading digits in which both agree, −log10 of the relative difference, 15 at most; they are counted by the command that writes this page. Where a source prints few digits, no more can agree.

${mdTable(["source", "numbers", "fewest digits", "half of them have at least"], overview)}

## To do it again

In the project's folder: \`npm run validation\`. It takes a few seconds and writes this report, a page to print and every single comparison as CSV into \`out/validation\`. The values and where they come from lie in \`tests/truth\`; the tests fail where a digit is lost.

## To cite it

${citation()}

${sources.map((source) => sourcePart(source, all)).join("\n\n")}

## What this does not show

That a formula is worked out rightly, not that it is the right one for your question. How often intervals hold and flags err is measured by simulation: the bench results. No number here comes from an animal in care.
`;
  return { markdown, csv: csvOf(all), compared: all.length };
}

type Counted = Comparison & { readonly digits: number };

/** Each method or data set of a source with the number that agrees least. */
function sourcePart(source: string, all: readonly Counted[]): string {
  const some = all.filter((each) => each.source === source);
  const rows = [...new Set(some.map((each) => each.what))].map((what) => {
    const of = some.filter((each) => each.what === what);
    const worst = of.reduce((a, b) => (b.digits < a.digits ? b : a));
    return [
      asIs(what),
      `${of.length}`,
      worst.digits.toFixed(1),
      asIs(worst.quantity),
      `${worst.expected}`,
      `${worst.got}`,
    ];
  });
  const heads = ["what", "numbers", "fewest digits", "there", "outside", "gramline"];
  return `## ${asIs(source)}\n\n${mdTable(heads, rows)}`;
}

/** From CITATION.cff: who, what, which version, when. */
function citation(): string {
  const cff = readFileSync(new URL("../../../CITATION.cff", import.meta.url), "utf8");
  const field = (name: string) =>
    new RegExp(`^\\s*(?:- )?${name}: "?(.*?)"?$`, "m").exec(cff)?.[1] ?? "";
  return `${asIs(field("name"))} (${field("date-released").slice(0, 4)}). ${asIs(field("title"))}. Version ${field("version")}, released ${field("date-released")}. Validation report. The same stands in \`CITATION.cff\` for reference managers.`;
}

function csvOf(all: readonly Counted[]): string {
  const cell = (text: string) => `"${text.replaceAll('"', '""')}"`;
  const lines = all.map((each) =>
    [
      cell(each.source),
      cell(each.what),
      cell(each.quantity),
      each.expected,
      each.got,
      each.digits.toFixed(2),
    ].join(","),
  );
  return `source,what,quantity,outside,gramline,digits\n${lines.join("\n")}\n`;
}
