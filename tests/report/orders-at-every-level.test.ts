import { beforeAll, describe, expect, it } from "vitest";
import { askDay, type DayAnswer } from "../../src/analysis/ask-day.js";
import { dayInJson } from "../../src/command-line/day-in-json.js";
import { dayPage } from "../../src/publish/day-page.js";
import { feedingSheet, handOverPage } from "../../src/publish/write-hand-over.js";
import { parseStudy } from "../../src/records/parse-study.js";
import { animalPage } from "../../src/report/animal/animal-page.js";
import { sectionText } from "../../src/report/section/plain-text.js";

/**
 * Six invented pups, one at each level and one of each act of a danger, each with an
 * amount of its own. What is ordered is printed on every page, whatever the level
 * (decision note 30): looked for by its amount. Notes beside feeds and weighings stand
 * on the hand-over, word for word.
 */
const pups = [
  { id: "A", g: 41, level: "danger", kind: "temperature", value: "35.1" },
  { id: "B", g: 43, level: "danger", kind: "glucose", value: "25 mg/dL" },
  { id: "C", g: 47, level: "second look", kind: "behaviour", value: "listless" },
  { id: "D", g: 53, level: "measure first", kind: "groom", value: "yes" },
  { id: "E", g: 59, level: "not judged", kind: "groom", value: "yes" },
  { id: "F", g: 61, level: "nothing raised", kind: "groom", value: "yes" },
] as const;
const days = Array.from({ length: 9 }, (_, i) => `2027-04-${String(10 + i)}`);
const last = days.at(-1)!;
const clocks = ["06", "09", "12", "15", "18", "21", "00", "03"];
const since = (id: string) => (id === "E" ? last : days[0]!);
/** The feeding day's last two feeds are after midnight. */
const dated = (d: string, c: string) =>
  c < "06" ? new Date(Date.parse(d) + 86_400_000).toISOString().slice(0, 10) : d;
const lines = (of: readonly string[]) => `${of.join("\n")}\n`;

const files = {
  "study.json": JSON.stringify({
    title: "Six",
    species: ["sea otter"],
    zone: "UTC",
    feeding_day_start_hour: 6,
    blank_tare_is_zero: true,
  }),
  "animals.csv": lines([
    "animal_id,species,birth_date_earliest,birth_date_latest,birth_date_basis,admitted_at,outcome",
    ...pups.map(
      (p) => `${p.id},sea otter,2027-03-01,2027-03-01,observed,${since(p.id)} 06:00,in care`,
    ),
  ]),
  "weighings.csv": lines([
    "animal_id,at,mass_g,coat,meal,notes",
    ...pups.flatMap((p) =>
      days
        .filter((d) => d >= since(p.id) && (p.id !== "D" || d < "2027-04-12"))
        .map(
          (d, i) =>
            `${p.id},${d} 08:00,${2400 + 24 * i},dry,before,${p.id === "F" && d === last ? "scale wobbled twice" : ""}`,
        ),
    ),
  ]),
  "diets.csv": "diet_id,kind,energy_kcal_per_g\nmilk,formula,1.2\n",
  "plans.csv": lines([
    "animal_id,from,diet_id,g_per_feed,feed_times",
    ...pups.map(
      (p) => `${p.id},${since(p.id)} 06:00,milk,${p.g},${clocks.map((c) => `${c}:00`).join(" ")}`,
    ),
  ]),
  "feeds.csv": lines([
    "animal_id,at,diet_id,offered_g,refused_g,notes",
    ...pups.flatMap((p) =>
      days
        .filter((d) => d >= since(p.id))
        .flatMap((d) =>
          clocks
            .filter((c) => d !== last || (c >= "09" && c <= "18"))
            .map(
              (c) =>
                `${p.id},${dated(d, c)} ${c}:05,milk,${p.g},0,${p.id === "F" && d === last && c === "15" ? "slow nipple; took it on the lap" : ""}`,
            ),
        ),
    ),
  ]),
  "observations.csv": lines([
    "animal_id,at,kind,value,unit",
    ...pups.flatMap((p) => [
      ...days
        .filter((d) => d >= since(p.id))
        .flatMap((d) => [
          `${p.id},${d} 09:00,temperature,37.8,degC`,
          `${p.id},${d} 10:00,stool,formed,`,
          `${p.id},${d} 10:00,urine,clear,`,
        ]),
      `${p.id},${last} 14:00,${p.kind},${p.value},`,
    ]),
  ]),
};

let answer: DayAnswer;
beforeAll(async () => {
  const inputs = Object.entries(files).map(([path, text]) => ({ path, bytes: Buffer.from(text) }));
  answer = (await askDay(parseStudy(inputs), { curves: [] })).value;
});
const words = (html: string) =>
  html.replace(/<style[\s\S]*?<\/style>|<svg[\s\S]*?<\/svg>/g, "").replaceAll("\u00a0", " ");

describe("what is ordered", () => {
  it("is tried at every level", () => {
    const level = new Map(answer.levels.map((l) => [l.animalId, l.level]));
    for (const p of pups) expect(level.get(p.id), p.id).toBe(p.level);
    expect(new Set(pups.map((p) => p.level)).size).toBe(5);
  });

  it.each(pups)("stands on every page of $id, $level", (p) => {
    const amount = `${p.g} g`;
    const pages = {
      board: dayPage(answer),
      hand: handOverPage(answer, []),
      sheet: feedingSheet(answer, []),
    };
    for (const [name, html] of Object.entries(pages))
      expect(words(html).includes(amount), name).toBe(true);
    const { value } = answer.analysis;
    const animal = value.animals.find((a) => a.animalId === p.id)!;
    const level = answer.levels.find((l) => l.animalId === p.id)!;
    const shift = answer.shift!.animals.find((a) => a.animalId === p.id)!;
    const own = animalPage(value, animal, { level, shift });
    expect(own.sections.map((s) => sectionText(s)).join("\n")).toContain(`${amount} a feed`);
    const json = dayInJson(answer).animals.find((a) => a.animalId === p.id)!;
    expect(json.order.state).toBe("ordered");
    expect(json.order.lines[0]!.text).toContain(`milk: ${amount} a feed, at `);
    expect(json.order.due[0]).toMatchObject({ at: "2027-04-18T21:00:00.000Z", amount });
  });

  it("is not called nothing where the order began within the 24 hours", () => {
    expect(answer.shift!.animals.find((a) => a.animalId === "E")!.compared).toBe(
      "part of the time",
    );
    expect(words(dayPage(answer)).includes("nothing ordered")).toBe(false);
    expect(words(handOverPage(answer, [])).includes("Nothing was ordered")).toBe(false);
  });
});

describe("notes beside feeds and weighings", () => {
  it("stand on the hand-over word for word, once in its lines and once in full", () => {
    const html = words(handOverPage(answer, []));
    for (const note of ["scale wobbled twice", "slow nipple; took it on the lap"])
      expect(html.split(note).length - 1, note).toBe(2);
  });
});
