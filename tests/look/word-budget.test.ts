import { beforeAll, describe, expect, it } from "vitest";
import { askDay, type DayAnswer } from "../../src/analysis/ask-day.js";
import { askSlowGainer, type SlowGainerAnswer } from "../../src/analysis/ask-slow-gainer.js";
import { dayPage } from "../../src/publish/day-page.js";
import { feedingSheet, handOverPage } from "../../src/publish/write-hand-over.js";
import { readStudy } from "../../src/records/files/read-study.js";
import { slowGainerPage } from "../../src/report/animal/slow-gainer-page.js";
import { blockHtml, chartHtml } from "../../src/report/renderers/page/section-html.js";
import { openHtml } from "./open-html.js";

/** Words that stand open: nothing folded, nothing that only a screen reader hears; the words in pictures too. */
function openWords(html: string): number {
  const text = openHtml(html)
    .replace(/<caption class="unseen">.*?<\/caption>/g, " ")
    .replace(/<[^>]*>/g, " ")
    .replace(/&#(\d+);/g, (_, code) => String.fromCharCode(Number(code)));
  // Numbers on an axis are no words to read.
  return text.split(/\s+/).filter((each) => /\p{L}/u.test(each)).length;
}

describe("words before the first fold", () => {
  let slow: SlowGainerAnswer;
  let day: DayAnswer;
  beforeAll(async () => {
    const study = await readStudy(new URL("../../data-demo", import.meta.url).pathname);
    slow = (await askSlowGainer(study, { animal: "O25-04", curves: [] })).value;
    day = (await askDay(study, { analysis: slow.analysis })).value;
  }, 60_000);
  const inCare = () => day.analysis.value.animals.filter((a) => a.inCare).length;

  it("are counted without what is folded", () => {
    const folded = "<details><summary>a</summary>b<details>c</details></details>";
    expect(openWords(`<main>one two ${folded} three <svg><text>four</text></svg></main>`)).toBe(4);
  });

  it("slow gainer: at most 450", () => {
    const html = slowGainerPage(slow)
      .answer.concat(slowGainerPage(slow).open)
      .map((part) => (part.kind === "chart" ? chartHtml(part, "c") : blockHtml(part, "b")));
    expect(openWords(html.join(" "))).toBeGreaterThan(100);
    expect(openWords(html.join(" "))).toBeLessThanOrEqual(450);
  });

  it("day: at most 75 an animal and 100", () => {
    expect(inCare()).toBeGreaterThanOrEqual(8);
    expect(openWords(dayPage(day))).toBeLessThanOrEqual(75 * inCare() + 100);
  });

  it("hand-over: at most 50 an animal beside orders, doubts and dangers, which are never cut", () => {
    const bands = handOverPage(day, []).match(/<section class="band[\s\S]*?<\/section>/g) ?? [];
    expect(bands).toHaveLength(inCare());
    const words = bands
      .filter((band) => !band.startsWith('<section class="band danger'))
      .map((band) => openWords(band.replace(/<div class="below">[\s\S]*/, "")));
    expect(words.length).toBeGreaterThan(5);
    expect(words.reduce((a, b) => a + b, 0)).toBeLessThanOrEqual(50 * words.length);
  });

  it("feeding sheet: at most 210 each beside dangers, doubts and a new order", () => {
    const sheets = feedingSheet(day, []).match(/<section[\s\S]*?<\/section>/g) ?? [];
    expect(sheets.length).toBeGreaterThanOrEqual(inCare() - 1);
    const neverCut = /<ul class="(?:first|news|before)">[\s\S]*?<\/ul>|<p class="hold">.*?<\/p>/g;
    for (const sheet of sheets)
      expect(openWords(sheet.replace(neverCut, " "))).toBeLessThanOrEqual(210);
  });
});
