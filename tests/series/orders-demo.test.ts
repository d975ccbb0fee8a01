import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { parseStudy } from "../../src/records/parse-study.js";
import { buildSeries } from "../../src/series/build-series.js";
import { dayOrder } from "../../src/series/orders/day-order.js";
import { feedingDayOf } from "../../src/units/calendar.js";

/**
 * The smaller sibling of the bench `orders-blanked`: the demo's orders with every
 * end blanked, as many keepers leave them. Truth is the text of the table: lines
 * of one animal with one begin are one order.
 */
const text = (name: string) =>
  readFileSync(new URL(`../fixtures/demo-853cc0e/${name}`, import.meta.url), "utf8");
const [head, ...lines] = text("plans.csv").trimEnd().split("\n");
const cells = lines.map((line) => {
  const [animal, from, , diet, grams, feeds] = line.split(",");
  return { animal: animal!, from: from!, diet: diet!, grams: Number(grams), feeds: Number(feeds) };
});

describe("the demo's changes of order, every end blanked", () => {
  const blanked = lines.map((line) => {
    const row = line.split(",");
    row[2] = "";
    return row.join(",");
  });
  const files = {
    "study.json": text("study.json"),
    "animals.csv": text("animals.csv"),
    "weighings.csv": text("weighings.csv").split("\n").slice(0, 2).join("\n"),
    "diets.csv": text("diets.csv"),
    "plans.csv": [head, ...blanked].join("\n"),
  };
  const study = parseStudy(
    Object.entries(files).map(([path, content]) => ({ path, bytes: Buffer.from(content) })),
  );
  const { animals, settings } = buildSeries(study, { slips: false });

  it("print the newest order, row by row and in grams, in all of them", () => {
    expect(study.setAside.filter((row) => row.table === "plans")).toEqual([]);
    const begun = new Map<string, typeof cells>();
    for (const cell of cells) {
      const key = `${cell.animal}|${cell.from}`;
      begun.set(key, [...(begun.get(key) ?? []), cell]);
    }
    let changes = 0;
    for (const own of begun.values()) {
      const { animal, from } = own[0]!;
      if (!cells.some((c) => c.animal === animal && c.from < from)) continue;
      changes++;
      const { orders } = animals.find((a) => a.animal.animalId === animal)!;
      const at = orders.lines.find((l) => localBegin(l.from, settings.zone) === from)!.from;
      const day = dayOrder(orders, feedingDayOf(at, settings.zone, settings.feedingDayStartHour));
      const written = own.flatMap((c) => new Array<string>(c.feeds).fill(`${c.diet} ${c.grams} g`));
      expect(day.feeds.map((f) => `${f.line.dietId} ${f.line.perFeed}`).sort()).toEqual(
        written.sort(),
      );
      expect(day.grams).toBe(own.reduce((sum, c) => sum + c.grams * c.feeds, 0));
    }
    // Counted in the table: 1306 orders of 46 animals, less the first of each.
    expect(changes).toBe(1260);
  });
});

const localBegin = (at: number, zone: string) =>
  new Intl.DateTimeFormat("sv-SE", {
    timeZone: zone,
    dateStyle: "short",
    timeStyle: "short",
  }).format(at);
