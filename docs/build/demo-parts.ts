import type { Chart } from "../../src/charts/chart.js";
import * as g from "../../src/index.js";
import { blockHtml, chartHtml, sectionHtml } from "../../src/report/renderers/page/section-html.js";
import type { Block, Section } from "../../src/report/section/section.js";

type Part = readonly (Block | Chart | Section)[];

/**
 * Pieces of pages of the demo study, by the name under which a page of the site
 * asks for them: worked out while the site is made, by the same calls as the
 * notebooks.
 */
export async function demoParts(folder: string): Promise<ReadonlyMap<string, string>> {
  const study = await g.readStudy(folder);
  const day = g.report.dayPage((await g.askDay(study)).value);
  const slow = g.report.slowGainerPage((await g.askSlowGainer(study, { animal: "O25-04" })).value);
  const plan = g.report.feedingPlanPage((await g.askFeedingPlan(study)).value);
  const seasons = g.report.seasonsPage(
    (await g.askSeasons(study, { species: "sea otter", season: "2024", seed: 20241125 })).value,
  );
  const lead = (part: Part) => part.filter((each) => each.kind === "lead");
  const pictures = (part: Part) =>
    part.filter((each) => each.kind === "chart" || each.kind === "chart-block");
  const parts: Readonly<Record<string, Part>> = {
    "day records": day.records.slice(0, 1),
    "day gains": [day.gains],
    "day gain-pictures": day.gainCharts.slice(0, 1),
    "slow-gainer answer": slow.answer,
    "slow-gainer course": pictures(slow.answer),
    "slow-gainer cause": slow.cause,
    "slow-gainer examination": slow.examination,
    "plan rations": pictures(plan.rations),
    "plan weaning": pictures(plan.weaning),
    "plan forecast": pictures(plan.forecast).slice(0, 1),
    "seasons answer": [...lead(seasons.answer), ...pictures(seasons.answer)],
    "seasons words": seasons.inWords,
    "seasons curves": pictures(seasons.curves).slice(0, 1),
  };
  return new Map(
    Object.entries(parts).map(([name, part]) => {
      if (part.length === 0) throw new Error(`The demo has nothing for "${name}"`);
      return [name, partHtml(name, part)];
    }),
  );
}

function partHtml(name: string, part: Part): string {
  const id = name.replaceAll(" ", "-");
  const inner = part.map((each, i) => {
    if (each.kind === "chart") return chartHtml(each, `${id}-${i}-`);
    if (each.kind === "section") return sectionHtml(each, { level: 3, idPrefix: `${id}-` });
    return blockHtml(each, `${id}-${i}-`);
  });
  // The questions of an answer are headings of their page; here they stand under one.
  const html = inner.join("\n").replace(/<(\/?)h2>/g, "<$1h3>");
  return `<div class="from-the-demo"><p class="note">From the demo; every animal and number is invented.</p>\n${html}\n</div>`;
}
