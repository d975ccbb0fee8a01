/** `npm run validation`: the validation report as a page, as text and as CSV, into `out/validation`. */
import { mkdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { pageFont } from "../../../src/publish/page-font.js";
import { libraryVersion } from "../../../src/publish/version.js";
import { pageFrame } from "../../../src/report/renderers/page/page-frame.js";
import { drawMarkdown } from "../draw-markdown.js";
import { agreementReport } from "./agreement-text.js";

const out = fileURLToPath(new URL("../../../out/validation", import.meta.url));
const { markdown, csv, compared } = agreementReport();
const none = () => {
  throw new Error("The report has no pictures");
};
const { html } = drawMarkdown(markdown, { part: none, picture: none });
mkdirSync(out, { recursive: true });
writeFileSync(join(out, "validation-report.md"), markdown);
writeFileSync(join(out, "validation-report.csv"), csv);
writeFileSync(
  join(out, "validation-report.html"),
  pageFrame({
    title: "gramline: validation report",
    body: html,
    foot: `gramline ${libraryVersion()}`,
    style: pageFont(),
  }),
);
console.log(`${compared} numbers compared. Open ${join(out, "validation-report.html")}`);
