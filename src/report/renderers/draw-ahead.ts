import type { Chart } from "../../charts/chart.js";
import { openWorkers } from "../../core/parallel.js";
import type { Remembered } from "../../core/remembered.js";
import type { Block, Section } from "../section/section.js";
import { type ChartDrawings, drawingsOf, forgetDrawings } from "./chart-svg.js";
import type { DrawJob } from "./draw-job.js";

/** Draws the charts of pages in threads of their own, while the thread that asks makes the pages. */
export interface DrawingThreads {
  /** Resolves when all charts of a page are drawn: the page then takes the drawings as they are. */
  draw(page: readonly Section[], more?: { readonly png?: boolean }): Promise<void>;
  close(): Promise<void>;
}

/**
 * Starts the threads that draw; they load the chart libraries at once. The same
 * drawings come from them as from the page that draws for itself.
 *
 * @param kept drawings made before, by all that was drawn from.
 */
export async function openDrawing(
  threads: number,
  kept: Remembered | null = null,
): Promise<DrawingThreads> {
  const module = new URL(
    import.meta.url.endsWith(".ts") ? "./draw-job.ts" : "./draw-job.js",
    import.meta.url,
  );
  const workers = await openWorkers<DrawJob, ChartDrawings>(module, "drawJob", threads);
  const drawingsFor = async (job: DrawJob): Promise<ChartDrawings> => {
    const question = kept === null ? "" : `picture ${JSON.stringify(job)}`;
    const found = kept?.recall(question) ?? null;
    if (found !== null) return found.value as ChartDrawings;
    const made = await workers.run(job);
    kept?.keep(question, made);
    return made;
  };
  return {
    draw: async (page, { png = false } = {}) => {
      const drawn = chartsIn(page).map(async (chart) => {
        Object.assign(drawingsOf(chart), await drawingsFor({ chart: bare(chart), png }));
      });
      await Promise.all(drawn);
    },
    close: workers.close,
  };
}

/** Lets go of what was drawn for a page that is made. */
export function forgetPage(page: readonly Section[]): void {
  for (const chart of chartsIn(page)) forgetDrawings(chart);
}

/** What drawing reads of a chart; the plotted numbers and their sentences stay here. */
function bare({ rows: _, reading, ...chart }: Chart): Chart {
  return reading === undefined
    ? chart
    : { ...chart, reading: reading.map(({ x }) => ({ x, words: "" })) };
}

function chartsIn(sections: readonly Section[]): readonly Chart[] {
  return sections.flatMap((each) => [
    ...chartsAmong(each.blocks),
    ...chartsIn(each.sections ?? []),
  ]);
}

function chartsAmong(blocks: readonly Block[]): readonly Chart[] {
  return blocks.flatMap((block) =>
    block.kind === "chart-block"
      ? [block.chart]
      : block.kind === "fold"
        ? chartsAmong(block.blocks)
        : [],
  );
}
