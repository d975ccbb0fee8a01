/**
 * Draws the two pictures of the README from the demo study: `npm run pictures`.
 */
import { writeFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { analyse } from "../../src/analysis/analyse.js";
import { animalOf } from "../../src/analysis/animal-of.js";
import { renderSvg } from "../../src/charts/render-svg.js";
import { readStudy } from "../../src/records/files/read-study.js";
import { massAmongOthersPicture } from "../../src/report/animal/masses-picture.js";
import { timelinePicture } from "../../src/report/animal/timeline-picture.js";

const beside = (path: string) => fileURLToPath(new URL(path, import.meta.url));
const study = await readStudy(beside("../../data-demo"));
const analysis = (await analyse(study, { curves: [] })).value;
const animal = animalOf(analysis, "O25-04");
const pictures = {
  "mass-against-contemporaries": massAmongOthersPicture(analysis, animal),
  "one-animal-on-one-time-axis": timelinePicture(analysis, animal),
};
for (const [name, chart] of Object.entries(pictures)) {
  writeFileSync(beside(`./${name}.svg`), `${renderSvg(chart.spec)}\n`);
}
