import { type Character, castOf } from "../../data-demo/generator/cast.js";
import { type DemoTable, writeTable } from "../../data-demo/generator/demo-table.js";
import { studySettings } from "../../data-demo/generator/describe-tables.js";
import { dietTable } from "../../data-demo/generator/diets.js";
import { Kitchen } from "../../data-demo/generator/kitchen.js";
import { type Life, live } from "../../data-demo/generator/life.js";
import { observationTable } from "../../data-demo/generator/observe.js";
import {
  animalTable,
  eventTable,
  feedTable,
  housingTable,
  planTable,
} from "../../data-demo/generator/pages.js";
import { scaleCheckRows, weighingRows } from "../../data-demo/generator/weigh.js";
import { type Random, seededRandom } from "../../src/core/random.js";
import { parseStudy } from "../../src/records/parse-study.js";
import type { StudySeries } from "../../src/series/animal-series.js";
import { buildSeries } from "../../src/series/build-series.js";

/**
 * How well the pages are kept. "full": every refusal written, plans and feeds in
 * step, and every day whether there was stool and urine (true days without: 3 % and 0.5 %). "demo":
 * as the demo study's pages are, stool written on 80 % and urine on 70 % of days,
 * refusals blank on some nights. "tired": besides, a tenth of the refusals blank
 * and 3 % of the feeds not written at all.
 */
export type Pages = "full" | "demo" | "tired";

/** Four seasons of an invented nursery in which no animal is ill and no scale drifts. */
export function healthyFacility(seed: number, pages: Pages): StudySeries {
  const kitchen = new Kitchen(seededRandom(seed).split(17));
  const lives = castOf(seed).map((c) => live(healthy(c), seed, kitchen, true));
  const random = seededRandom(seed).split(4711);
  const { batches, ingredients } = kitchen.tables();
  const written = [
    animalTable(lives),
    weighingRows(lives, seed),
    scaleCheckRows(lives, seed),
    feeds(lives, seed, pages, random),
    planTable(lives, seed),
    dietTable(),
    batches,
    ingredients,
    housingTable(lives),
    observations(lives, seed, pages, random),
    { ...eventTable(), rows: eventTable().rows.filter((r) => r.cells[3] !== "illness in group") },
  ];
  const encode = (text: string) => new TextEncoder().encode(text);
  return buildSeries(
    parseStudy([
      { path: "study.json", bytes: encode(JSON.stringify(studySettings())) },
      ...written.map((t) => ({ path: `${t.name}.csv`, bytes: encode(writeTable(t).text) })),
    ]),
  );
}

/** The same animal with nothing wrong; the one scale that would drift shows the truth. */
function healthy(c: Character): Character {
  const drifts = c.trouble?.kind === "scale drifts";
  const small = c.trouble?.kind === "fails";
  return {
    ...c,
    illnesses: [],
    lastDay: null,
    trouble: drifts ? { ...c.trouble!, factor: 1 } : null,
    // The pup that dies in the demo lives here, of usual size and to the usual age.
    ...(small ? { birthMassG: 1780, admissionMassG: 1720, leavesAge: 140 } : {}),
    ending: c.ending === "died" ? "released" : c.ending,
  };
}

function feeds(lives: readonly Life[], seed: number, pages: Pages, random: Random): DemoTable {
  const table = feedTable(lives, seed);
  if (pages === "demo") return table;
  const refused = table.columns.indexOf("refused_g");
  const offered = table.columns.indexOf("offered_g");
  const rows = table.rows.flatMap((row) => {
    const cells = [...row.cells];
    if (pages === "full") {
      // What the generator leaves blank is filled with about what is usually refused.
      if (cells[refused] === "") cells[refused] = String(Math.round(0.12 * Number(cells[offered])));
      return [{ ...row, cells }];
    }
    if (random.uniform() < 0.03) return [];
    if (random.uniform() < 0.1) cells[refused] = "";
    return [{ ...row, cells }];
  });
  return { ...table, rows };
}

function observations(
  lives: readonly Life[],
  seed: number,
  pages: Pages,
  random: Random,
): DemoTable {
  const table = observationTable(lives, seed);
  if (pages !== "full") return table;
  const kind = table.columns.indexOf("kind");
  const kept = table.rows.filter((r) => r.cells[kind] !== "stool" && r.cells[kind] !== "urine");
  const again = table.rows.filter((r) => r.cells[kind] === "stool" || r.cells[kind] === "urine");
  // Every day of the very young gets its line, at the clock time of the generator's own lines.
  const clock = (what: string) => again.find((r) => r.cells[kind] === what)!.cells[1]!.slice(10);
  const daily = lives.flatMap((life) =>
    life.days.flatMap((d) => {
      if (d.ageD >= 60 || d.sinceAdmissionD === 0) return [];
      const day = new Date(d.day * 86_400_000).toISOString().slice(0, 10);
      const line = (what: string, share: number, usual: string) => ({
        order: d.day * 1440 + 900,
        cells: [
          life.character.id,
          `${day}${clock(what)}`,
          what,
          random.uniform() < share ? "none" : usual,
          "",
          "",
        ],
      });
      return [line("stool", 0.03, "formed"), line("urine", 0.005, "clear")];
    }),
  );
  return { ...table, rows: [...kept, ...daily] };
}
