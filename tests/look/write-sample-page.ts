import { writeFileSync } from "node:fs";
import { pageFont } from "../../src/publish/page-font.js";
import { pageScript } from "../../src/publish/page-script.js";
import { pageFrame } from "../../src/report/renderers/page/page-frame.js";
import { chartHtml } from "../../src/report/renderers/page/section-html.js";
import { full } from "../charts/sample-charts.js";

// One of each picture, with invented data, as a page shows it: what the snapshots are made of.
// With a second word: the named picture drawn wrongly, to see that the snapshots notice.
const [, , out, wrong] = process.argv;
const figures = Object.entries(full).map(([name, chart]) => {
  const html = chartHtml(chart, name, { interactive: true });
  // Its first drawn line goes to nothing.
  const shown =
    name === wrong ? html.replaceAll(/(mark-line[^>]*><path d=")[^"]*/g, "$1M0,0L1,1") : html;
  return `<section id="${name}"><h2>${name}</h2>${shown}</section>`;
});
writeFileSync(
  out!,
  pageFrame({
    title: "One of each picture",
    body: `<h1>One of each picture</h1>${figures.join("")}`,
    foot: "",
    style: pageFont(),
    script: pageScript(),
  }),
);
