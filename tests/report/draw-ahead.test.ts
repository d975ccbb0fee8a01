import { describe, expect, it } from "vitest";
import { drawFitting } from "../../src/charts/fit-spec.js";
import { renderPng } from "../../src/charts/render-png.js";
import { drawChart } from "../../src/charts/render-svg.js";
import { drawingsOf } from "../../src/report/renderers/chart-svg.js";
import { forgetPage, openDrawing } from "../../src/report/renderers/draw-ahead.js";
import { chartBlock, fold, section } from "../../src/report/section/section.js";
import { full } from "../charts/sample-charts.js";

const charts = Object.values(full).slice(0, 6);
const page = [
  section("Open", charts.slice(0, 3).map(chartBlock), {
    sections: [section("Behind", [fold("closed", charts.slice(3).map(chartBlock))])],
  }),
];

describe("charts drawn in threads", () => {
  it("are those of the page that draws for itself, in folds and sections too", async () => {
    const drawing = await openDrawing(2);
    await drawing.draw(page, { png: true }).finally(drawing.close);
    for (const chart of charts) {
      const at = (chart.reading ?? []).map((each) => each.x);
      const { wide, narrow, png } = drawingsOf(chart);
      expect(wide).toEqual(drawChart(chart.spec, at));
      expect(narrow).toEqual(drawFitting(chart, 358));
      expect(png).toEqual(renderPng(wide!.svg, 2));
    }
    forgetPage(page);
    for (const chart of charts) expect(drawingsOf(chart)).toEqual({});
  }, 60_000);

  it("are drawn once where they are kept, and again where they were lost or differ", async () => {
    const held = new Map<string, unknown>();
    let drawn = 0;
    const kept = {
      recall: (question: string) =>
        held.has(question) ? { value: structuredClone(held.get(question)) } : null,
      keep: (question: string, value: unknown) => {
        drawn++;
        held.set(question, structuredClone(value));
      },
    };
    const two = [section("Two", charts.slice(0, 2).map(chartBlock))];
    const drawnOf = async (page: typeof two) => {
      const drawing = await openDrawing(1, kept);
      await drawing.draw(page).finally(drawing.close);
      const all = charts.slice(0, 2).map((chart) => ({ ...drawingsOf(chart) }));
      forgetPage(page);
      return all;
    };
    const first = await drawnOf(two);
    expect(drawn).toBe(2);
    expect(await drawnOf(two)).toEqual(first);
    expect(drawn).toBe(2);
    held.delete([...held.keys()][0]!);
    expect(await drawnOf(two)).toEqual(first);
    expect(drawn).toBe(3);
    const other = {
      ...charts[0]!,
      alt: "another",
      spec: { ...charts[0]!.spec, description: "another" },
    };
    await drawnOf([section("Other", [chartBlock(other)])]);
    expect(drawn).toBe(4);
  }, 60_000);

  it("that cannot be drawn fail the page that waits for them", async () => {
    const drawing = await openDrawing(1);
    const broken = { ...charts[0]!, spec: { mark: "no such mark", data: { values: [] } } };
    const drawn = drawing.draw([section("Broken", [chartBlock(broken)])]);
    await expect(drawn.finally(drawing.close)).rejects.toThrow();
  }, 60_000);
});
