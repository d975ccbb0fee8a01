import { describe, expect, it } from "vitest";
import { askHandOver } from "../../src/analysis/ask-hand-over.js";
import { feedingSheet, handOverPage } from "../../src/publish/write-hand-over.js";
import { parseStudy } from "../../src/records/parse-study.js";
import { animalPage } from "../../src/report/animal/animal-page.js";
import { blockHtml } from "../../src/report/renderers/page/section-html.js";
import { dullStudy } from "../records/corpus/dull-study.js";

/**
 * What a keeper meets at the hour of the feed. The first pup is ordered 140 g at
 * 22:00, the second 150 g; each case writes one thing about the first at 19:30.
 */
async function pagesWith(observation: string) {
  const files = dullStudy({
    add: {
      observations: `P1,2025-05-10 ${observation}
`,
    },
  });
  const inputs = Object.entries(files).map(([path, text]) => ({ path, bytes: Buffer.from(text) }));
  const { value } = await askHandOver(parseStudy(inputs), { onDay: "2025-05-10" });
  const level = value.levels.find((l) => l.animalId === "P1")!;
  const page = animalPage(
    value.analysis.value,
    value.analysis.value.animals.find((a) => a.animalId === "P1")!,
    { level, shift: value.shift!.animals.find((s) => s.animalId === "P1")! },
  );
  const handOver = handOverPage(value, []);
  const band = handOver.match(/<section class="band[^>]*id="hand-over-P1">[\s\S]*?<\/section>/)![0];
  const sheet = feedingSheet(value, []).match(/id="sheet-P1">[\s\S]*?<\/section>/)![0];
  return {
    headline: wordsOf(handOver.match(/<h1[\s\S]*?<\/h1>/)![0]),
    next: [
      ...band
        .match(/<div class="next"[\s\S]*?<\/div>/)![0]
        .matchAll(/<p class="(.*?)">(.*?)<\/p>/g),
    ].map(([, kind, text]) => `${kind}: ${wordsOf(text!)}`),
    below: wordsOf(band.match(/<div class="below">[\s\S]*?<details/)![0]),
    rows: wordsOf(sheet.match(/<tbody>[\s\S]*?<\/tbody>/)![0]),
    animal: page.sections[0]!.blocks.map((block) => wordsOf(blockHtml(block, "b"))).join(" "),
    waits: band.includes("waits"),
    everywhere: wordsOf(`${band} ${sheet}`),
  };
}

const wordsOf = (html: string) =>
  html
    .replace(/<[^>]*>/g, " ")
    .replace(/[\u00a0\u202f]/g, " ")
    .replace(/\s+/g, " ")
    .trim();

describe("an animal that is not to be fed", () => {
  it.each([
    ["19:30,note,cannot be roused,,", "a danger seen once"],
    ["19:30,bloat,severe,,", "bloat"],
    ["19:20,vomit,1,count,\nP1,2025-05-10 19:30,vomit,1,count,", "vomit twice within 6 h"],
    ["19:30,temperature,34.1,degC,", "below the temperature limit"],
  ])("%s: the act stands where the grams stood, the order waits beneath", async (written) => {
    const { headline, next, below, rows, animal, waits } = await pagesWith(written);
    expect(next[0]).toBe("time stop: Do not feed");
    expect(next[1]).toBe("amount: until the veterinarian has spoken");
    expect(next.slice(2)).toEqual(["sub: The order waits: 22:00 140 g milk"]);
    // The order stands as ordered, and says that it waits.
    expect(below).toContain("it waits until the veterinarian has spoken");
    expect(below).toContain("milk: 140 g a feed");
    expect(waits).toBe(true);
    // Nobody is sent to feed it next; the other pup's feed is named.
    expect(headline).toContain("Do not feed Bramble until the veterinarian has spoken.");
    expect(headline).toContain("The next feed is that of Thistle at 22:00.");
    // On the sheet the act stands in the table, before the first amount.
    expect(rows).toMatch(/^Do not feed until the veterinarian has spoken\./);
    expect(rows.indexOf("Do not feed")).toBeLessThan(rows.indexOf("140 g"));
    expect(animal).toContain(
      "Do not feed until the veterinarian has spoken. The order waits: milk",
    );
  });

  it.each([
    ["19:30,stool,black,,", "sub: call now; feed as ordered"],
    ["19:30,temperature,41.2,degC,", "sub: call now; feed as ordered"],
  ])(
    "a danger that forbids no feed (%s) leaves time and grams, and calls first",
    async (written, small) => {
      const { next, waits, rows } = await pagesWith(written);
      expect(next).toEqual(["time: 22:00", "amount: 140 g milk", small]);
      expect(waits).toBe(false);
      expect(rows).not.toContain("Do not feed");
    },
  );

  it.each([
    "19:20,vomit,1,count,\nP1,2025-05-10 19:25,vomit,1,count,",
    "19:20,note,cannot be roused,,",
    "19:20,temperature,34.1,degC,",
  ])("no line says feed as ordered beside it, of whatever other sign (%s)", async (written) => {
    const { everywhere } = await pagesWith(
      `${written}\nP1,2025-05-10 19:30,glucose,28,mg/dL,\nP1,2025-05-10 19:31,stool,bloody,,`,
    );
    expect(everywhere).toContain("Danger, glucose");
    expect(everywhere).toContain("Danger, blood");
    expect(everywhere.toLowerCase()).not.toContain("feed as ordered");
  });

  it("nothing raised leaves time and grams alone", async () => {
    const { next, headline } = await pagesWith("19:30,stool,normal,,");
    expect(next).toEqual(["time: 22:00", "amount: 140 g milk"]);
    expect(headline).toMatch(/next feed is that of (Bramble|Thistle) at 22:00/);
  });
});
