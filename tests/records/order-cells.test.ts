import { describe, expect, it } from "vitest";
import {
  clockWords,
  daySetWords,
  everyDaysWords,
  feedsADayWords,
  mentionsNilByMouth,
  nilByMouthWords,
  openEndWords,
  orderSpellings,
  saysNilByMouth,
  weekdayWords,
} from "../../src/records/order-words.js";
import { parseStudy } from "../../src/records/parse-study.js";

/** What a person reads from each cell, written by hand; nothing is a copy of the reader's answer. */
const head =
  "animal_id,from,to,diet_id,g_per_feed,ml_per_feed,g_per_day,feeds_per_day,feed_times,days";

function study(rows: readonly string[], settings: object = {}, header = head) {
  const files = {
    "study.json": JSON.stringify({ zone: "UTC", feeding_day_start_hour: 6, ...settings }),
    "animals.csv": "animal_id,species\nP1,sea otter\n",
    "weighings.csv": "animal_id,at,mass_g\nP1,2025-04-30 09:00,2000\n",
    "plans.csv": `${[header, ...rows].join("\n")}\n`,
  };
  return parseStudy(
    Object.entries(files).map(([path, text]) => ({ path, bytes: Buffer.from(text) })),
  );
}

function cells(part: Partial<Record<string, string>>, settings: object = {}) {
  const base: Record<string, string> = { animal_id: "P1", from: "2025-05-01", ...part };
  const row = head.split(",").map((column) => JSON.stringify(base[column] ?? ""));
  const read = study([row.join(",")], settings);
  const told = read.notices.filter((n) => n.code === "records-order-as-written");
  expect(read.setAside).toEqual([]);
  return { row: read.tables.plans[0]!, told };
}

describe("amounts", () => {
  it.each([
    ["46", { amount: 46, unit: "g" }],
    ["46 g", { amount: 46, unit: "g" }],
    ["0.046 kg", { amount: 0.046, unit: "kg" }],
    ["45 mL", { amount: 45, unit: "mL" }],
    ["45ml", { amount: 45, unit: "mL" }],
    ["1.6 oz", { amount: 1.6, unit: "oz" }],
    ["60 kcal", { amount: 60, unit: "kcal" }],
    ["0", { amount: 0, unit: "g" }],
    ["0 g", { amount: 0, unit: "g" }],
    ["46.5", { amount: 46.5, unit: "g" }],
  ])("%s is read, in its own unit", (text, value) => {
    const { row, told } = cells({ g_per_feed: text });
    expect(row.perFeed).toEqual({ words: text, value });
    expect(told).toEqual([]);
  });

  it.each([
    "46 x 12",
    "46-50",
    "as much as it takes",
    "?",
    "46 or 50",
    "-46",
    "38 degC",
    "46 drops",
  ])("%s is kept word for word, told, and never sets the row aside", (text) => {
    const { row, told } = cells({ g_per_feed: text });
    expect(row.perFeed).toEqual({ words: text, value: null });
    expect(told).toHaveLength(1);
  });

  it("a decimal comma is read where the study says so", () => {
    expect(cells({ g_per_feed: "46,5" }, { decimal: "comma" }).row.perFeed?.value).toEqual({
      amount: 46.5,
      unit: "g",
    });
  });

  it("keep the unit of their heading, whatever the study's unit of mass", () => {
    const of = (header: string, settings: object = {}) =>
      study(["P1,2025-05-01,45,8"], settings, `animal_id,from,${header},feeds_per_day`).tables
        .plans[0]!;
    expect(of("g_per_feed", { units: { mass: "kg" } }).perFeed?.value).toMatchObject({ unit: "g" });
    expect(of("ml_per_feed", { units: { mass: "kg" } }).mlPerFeed?.value).toMatchObject({
      unit: "mL",
    });
    expect(of("kg_per_feed").perFeed?.value).toMatchObject({ amount: 45, unit: "kg" });
    expect(of("kcal per feed").perFeed?.value).toMatchObject({ amount: 45, unit: "kcal" });
    expect(of("g_per_day", { units: { mass: "kg" } }).perDay?.value).toMatchObject({ unit: "g" });
  });
});

describe("nothing by mouth", () => {
  it.each([
    ...nilByMouthWords,
    "NPO",
    "N.P.O.",
    "Nil-by-mouth",
    "NIL BY MOUTH",
    "(NBM)",
    "nil by mouth.",
  ])("%s", (text) => {
    expect(saysNilByMouth(text)).toBe(true);
    expect(cells({ g_per_feed: text }).row.perFeed?.value).toBe("nil by mouth");
    const { told } = cells({ diet_id: text });
    expect(told).toEqual([]);
  });
  it.each(["milk", "nil-fat milk", "fast eater", "0", ""])("is not %s", (text) => {
    expect(saysNilByMouth(text)).toBe(false);
  });
  it("is found inside a note, and not in words that only look like it", () => {
    expect(mentionsNilByMouth("Vet: NPO from 22:00")).toBe(true);
    expect(mentionsNilByMouth("keep nil by mouth until seen")).toBe(true);
    expect(mentionsNilByMouth("fast eater, no food left")).toBe(false);
  });
});

describe("feeds a day", () => {
  it.each([
    ["8", 8],
    ["8x", 8],
    ["x8", 8],
    ["8 times", 8],
    ["8 feeds", 8],
    ["8/d", 8],
    ["8 times a day", 8],
    ["3 x daily", 3],
    ["q3h", 8],
    ["q 2 h", 12],
    ["every 3 h", 8],
    ["every 4 hours", 6],
    ["3-hourly", 8],
    ...Object.entries(feedsADayWords),
  ])("%s is %d", (text, n) => {
    const { row, told } = cells({ feeds_per_day: text });
    expect(row.feedsPerDay).toEqual({ words: text, value: n });
    expect(told).toEqual([]);
  });
  it.each(["8-10", "q5h", "often", "200"])("%s is kept word for word", (text) => {
    expect(cells({ feeds_per_day: text }).row.feedsPerDay).toEqual({ words: text, value: null });
  });
});

describe("feed times", () => {
  it.each<readonly [string, readonly string[]]>([
    ["06:00 09:00", ["06:00", "09:00"]],
    ["6:00, 9:00", ["06:00", "09:00"]],
    ["6.00; 9.30", ["06:00", "09:30"]],
    ["0600/0930", ["06:00", "09:30"]],
    ["6h00 9h30", ["06:00", "09:30"]],
    ["6 am, 3pm and 11:30 pm", ["06:00", "15:00", "23:30"]],
    ["12 am 12 pm", ["00:00", "12:00"]],
    ["6, 12, 18, 24", ["00:00", "06:00", "12:00", "18:00"]],
    ["22:00 01:00 04:00", ["01:00", "04:00", "22:00"]],
    ...Object.entries(clockWords).map(([word, time]) => [word, [time]] as const),
  ])("%s", (text, times) => {
    const { row, told } = cells({ feed_times: text });
    expect(row.feedTimes?.value).toEqual(times);
    expect(told).toEqual([]);
  });
  it.each(["25:00", "06:70", "at dawn", "13 pm"])("%s is kept word for word", (text) => {
    expect(cells({ feed_times: text }).row.feedTimes).toEqual({ words: text, value: null });
  });
});

describe("days", () => {
  it.each<readonly [string, readonly number[]]>([
    ["Mon Wed Fri", [1, 3, 5]],
    ["mon, thu", [1, 4]],
    ["Mo-Fr", [1, 2, 3, 4, 5]],
    ["Sat to Mon", [1, 6, 7]],
    ["Tuesdays and Saturdays", [2, 6]],
    ...weekdayWords.flatMap((names, i) => names.map((name) => [name, [i + 1]] as const)),
    ...Object.entries(daySetWords).map(([word, days]) => [word, [...days]] as const),
  ])("%s", (text, days) => {
    expect(cells({ days: text }).row.days?.value).toEqual({ kind: "week", days });
  });
  it.each([["every 3 days", 3], ...Object.entries(everyDaysWords)])("%s", (text, days) => {
    expect(cells({ days: text }).row.days?.value).toEqual({ kind: "every", days });
  });
  it.each(["when hungry", "odd days", "Mon Blueday"])("%s is kept word for word", (text) => {
    expect(cells({ days: text }).row.days).toEqual({ words: text, value: null });
  });
});

describe("the end", () => {
  it("is a whole feeding day where it is a date, and a minute where it is a time", () => {
    expect(cells({ to: "2025-05-02" }).row.to?.value).toBe(Date.UTC(2025, 4, 3, 6));
    expect(cells({ to: "2025-05-02 14:00" }).row.to?.value).toBe(Date.UTC(2025, 4, 2, 14));
  });
  it.each(openEndWords)("%s is no end", (text) => {
    expect(cells({ to: text })).toMatchObject({ row: { to: null }, told: [] });
  });
  it("in words is kept, and the order with it", () => {
    expect(cells({ to: "when weaned" }).row.to).toEqual({ words: "when weaned", value: null });
  });
});

describe("the table of spellings", () => {
  it("has no entry that its reader does not accept", () => {
    // Entries that list examples are split at their commas; words in prose are left out.
    const prose = /^a date$|blank/;
    for (const { column, written } of orderSpellings()) {
      if (prose.test(written)) continue;
      for (const part of written.split(", ")) {
        const field = column.split(", ")[0]!;
        expect(cells({ [field]: part }).told, `${column}: ${part}`).toEqual([]);
      }
    }
  });
});
