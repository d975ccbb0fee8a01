import { beforeAll, describe, expect, it } from "vitest";
import { askHandOver } from "../../src/analysis/ask-hand-over.js";
import { feedingSheet, handOverPage } from "../../src/publish/write-hand-over.js";
import { parseStudy } from "../../src/records/parse-study.js";

/**
 * Orders as a reader of the two pages meets them: each case changes the orders
 * of one of two calm invented pups, and what the pages must say was written by
 * hand from the definition of an order. A case is read in that animal's own
 * block, above its first table, and must be absent from the other pup's block
 * and from the pages without it.
 */
const days = Array.from({ length: 10 }, (_, i) => `2025-05-${String(i + 1).padStart(2, "0")}`);
const hours = ["01:00", "04:00", "07:00", "10:00", "13:00", "16:00", "19:00", "22:00"];
const head =
  "animal_id,from,to,diet_id,g_per_feed,ml_per_feed,feeds_per_day,feed_times,days,ordered_by,notes";
const calm = (id: string) => `${id},2025-05-01 06:00,,milk,140,,8,,,A. Vellum,`;

interface Case {
  readonly plans: readonly string[];
  /** Said in the animal's block of both pages, above the first table. */
  readonly said?: readonly RegExp[];
  /** Rows of the sheet, as ordered: time, diet, amount. */
  readonly rows?: readonly string[];
  readonly settings?: object;
  readonly observations?: readonly string[];
  readonly diets?: string;
  readonly weighings?: readonly string[];
}

const milk8 = (amount = "140 g") => new Array(8).fill(` | milk | ${amount}`);

function filesOf({ plans, settings = {}, observations = [], diets, weighings }: Case) {
  const lines = (top: string, rows: readonly string[]) => `${[top, ...rows].join("\n")}\n`;
  return {
    "study.json": JSON.stringify({
      title: "Orders",
      species: ["sea otter"],
      zone: "Europe/Berlin",
      feeding_day_start_hour: 6,
      blank_tare_is_zero: true,
      ...settings,
    }),
    "animals.csv":
      "animal_id,name,species,sex,birth_date_earliest,birth_date_latest,birth_date_basis,admitted_at,season,outcome\n" +
      "P1,Bramble,sea otter,female,2025-03-20,2025-03-20,observed,2025-03-24 14:00,2025,in care\n" +
      "P2,Thistle,sea otter,male,2025-03-18,2025-03-18,observed,2025-03-25 09:30,2025,in care\n",
    "weighings.csv": lines(
      "animal_id,at,mass_g,coat,meal",
      weighings ??
        days.flatMap((d, i) => [
          `P1,${d} 06:30,${4300 + 45 * i},dry,before`,
          `P2,${d} 06:40,${4700 + 48 * i},dry,before`,
        ]),
    ),
    "feeds.csv": lines(
      "animal_id,at,diet_id,offered_g,refused_g",
      days.flatMap((d) =>
        hours.flatMap((h) => [`P1,${d} ${h},milk,140,0`, `P2,${d} ${h},milk,150,0`]),
      ),
    ),
    "diets.csv":
      diets ??
      "diet_id,name,kind,water_pct,protein_pct,fat_pct,carbohydrate_pct,fibre_pct,ash_pct,energy_kcal_per_g,density_g_per_ml\n" +
        "milk,Milk,formula,81.4,7.2,6.9,3.7,0,0.8,1.06,1.03\nrich,Rich milk,formula,78,8,9,4.2,0,0.8,1.3,\nmash,Clam mash,solid,80,15,1.5,2,0,1.5,0.8,\n",
    "plans.csv": lines(head, [...plans, "P2,2025-05-01 06:00,,milk,150,,8,,,A. Vellum,"]),
    "observations.csv": lines("animal_id,at,kind,value,unit,notes", [
      ...days.flatMap((d) =>
        ["P1", "P2"].flatMap((id) => [
          `${id},${d} 08:00,temperature,37.8,degC,`,
          `${id},${d} 09:00,stool,normal,,`,
          `${id},${d} 09:00,urine,seen,,`,
        ]),
      ),
      ...observations,
    ]),
  };
}

interface Pages {
  readonly above: (page: "hand-over" | "sheet", id: string) => string;
  readonly rows: (id: string) => string[];
}

async function pagesOf(each: Case): Promise<Pages> {
  const inputs = Object.entries(filesOf(each)).map(([path, text]) => ({
    path,
    bytes: Buffer.from(text),
  }));
  const { value } = await askHandOver(parseStudy(inputs), { onDay: "2025-05-10" });
  const pages = {
    "hand-over": handOverPage(value, []),
    sheet: feedingSheet(value, []),
  };
  const block = (html: string, id: string) =>
    html
      .split(/(?=<section\b)/)
      .find((part) => new RegExp(`<h2[^>]*>[^<]*\\b${id}\\b`).test(part)) ?? "";
  return {
    above: (page, id) => plain(block(pages[page], id).split("<table")[0]!),
    rows: (id) =>
      [
        ...block(pages.sheet, id).matchAll(
          /<t[hd](?: scope="row")?>([^<]*)<\/t[hd]><td>([^<]*)<\/td><td class="number">([^<]*)</g,
        ),
      ].map(([, time, diet, amount]) => `${time} | ${diet} | ${plain(amount!)}`),
  };
}

const plain = (html: string) =>
  html
    .replace(/<[^>]*>/g, " ")
    .replace(/&#(\d+);/g, (_, code: string) => String.fromCodePoint(Number(code)))
    .replace(/\s+/g, " ")
    .trim();

const cases: Readonly<Record<string, Case>> = {
  "two open orders: the newest, not the sum": {
    plans: [calm("P1"), "P1,2025-05-08 06:00,,milk,160,,8,,,A. Vellum,"],
    said: [
      /milk: 160 g a feed, 8 feeds a day\. Since 8 May(?: 2025)? 06:00, ordered by A\. Vellum/,
    ],
    rows: milk8("160 g"),
  },
  "twelve feeds of one diet and two of another": {
    plans: ["P1,2025-05-08 06:00,,milk,60,,12,,,,", "P1,2025-05-08 06:00,,mash,20,,2,,,,"],
    said: [/milk: 60 g a feed, 12 feeds a day/, /mash: 20 g a feed, 2 feeds a day/],
    rows: [...new Array(2).fill(" | mash | 20 g"), ...new Array(12).fill(" | milk | 60 g")],
  },
  "a solid ordered and never fed, and two formulas in one order": {
    plans: [
      "P1,2025-05-08 06:00,,milk,100,,8,,,,",
      "P1,2025-05-08 06:00,,rich,40,,8,,,,",
      "P1,2025-05-08 06:00,,mash,30,,,12:00,,,",
    ],
    said: [/rich: 40 g a feed, 8 feeds a day/, /mash: 30 g a feed, at 12:00/],
    rows: ["12:00 | mash | 30 g", ...milk8("100 g"), ...new Array(8).fill(" | rich | 40 g")],
  },
  "times that nobody ordered are blank, and the usual hours are habit": {
    plans: [calm("P1")],
    said: [
      /Times are not ordered/,
      /about 07:00, 10:00, 13:00, 16:00, 19:00, 22:00, 01:00 and 04:00\. That is habit, not an order/,
    ],
    rows: milk8(),
  },
  "a plan that ends on a date holds that whole day": {
    plans: ["P1,2025-05-01 06:00,2025-05-11,milk,141,,8,,,,"],
    said: [/milk: 141 g a feed/],
    rows: milk8("141 g"),
  },
  "a plan that has ended is not taken up by anything computed": {
    plans: [calm("P1"), "P1,2025-05-08 06:00,2025-05-09,milk,100,,8,,,,"],
    said: [
      /The last order ended at 10 May(?: 2025)? 06:00: milk: 100 g .* Before it: milk: 140 g .*ask now/,
    ],
    rows: [],
  },
  "an order by volume": {
    plans: ["P1,2025-05-08 06:00,,milk,,136,8,,,,"],
    said: [/milk: 136 mL a feed/],
    rows: milk8("136 mL"),
  },
  "an order in kilocalories stands in kilocalories": {
    plans: ["P1,2025-05-08 06:00,,milk,148 kcal,,8,,,,"],
    said: [/milk: 148 kcal a feed/],
    rows: milk8("148 kcal"),
  },
  "some days of the week: not the one printed": {
    plans: [
      "P1,2025-05-01 06:00,2025-05-20,milk,139,,8,,,,",
      "P1,2025-05-08 06:00,,mash,30,,2,,Mon Wed,,",
    ],
    // 11 May 2025 is a Sunday; the hand-over's own day is a Saturday.
    said: [/Not ordered for this day \(Mon Wed\): mash: 30 g/],
    rows: milk8("139 g"),
  },
  "an order that begins inside the printed day, by times": {
    plans: [
      "P1,2025-05-01 06:00,,milk,140,,,08:00 12:00 18:00 02:00,,,",
      "P1,2025-05-11 14:00,,milk,150,,,08:00 12:00 18:00 02:00,,,",
    ],
    rows: [
      "08:00 | milk | 140 g",
      "12:00 | milk | 140 g",
      "18:00 | milk | 150 g",
      "02:00 | milk | 150 g",
    ],
  },
  "larger at night, over midnight": {
    plans: [
      "P1,2025-05-08 06:00,,milk,130,,,07:00 13:00 19:00,,,",
      "P1,2025-05-08 06:00,,milk,160,,,23:30 03:00,,,",
    ],
    said: [/milk: 160 g a feed, at 03:00, 23:30/],
    rows: [
      "07:00 | milk | 130 g",
      "13:00 | milk | 130 g",
      "19:00 | milk | 130 g",
      "23:30 | milk | 160 g",
      "03:00 | milk | 160 g",
    ],
  },
  "nil by mouth in the diet": {
    plans: [calm("P1"), "P1,2025-05-09 06:00,,NPO,,,,,,,"],
    said: [/NOTHING BY MOUTH since 9 May(?: 2025)? 06:00 \(written: “NPO”\)/],
    rows: [],
  },
  "nil by mouth in the grams, over an order with its end written": {
    plans: [
      "P1,2025-05-01 06:00,2025-05-20,milk,140,,8,,,,",
      "P1,2025-05-09 06:00,,milk,nil by mouth,,,,,,",
    ],
    said: [/NOTHING BY MOUTH .*nil by mouth/, /Ended by nothing by mouth: milk: 140 g/],
    rows: [],
  },
  "zero of the only diet": {
    plans: [calm("P1"), "P1,2025-05-09 06:00,,milk,0,,,,,,"],
    said: [/Zero is ordered .*nothing by mouth\. Do not feed until spoken/],
    rows: [],
  },
  "zero of one of two": {
    plans: [
      calm("P1"),
      "P1,2025-05-01 06:00,,mash,30,,2,,,,",
      "P1,2025-05-09 06:00,,mash,0 g,,,,,,",
    ],
    said: [/Another diet was set to zero; this one was not: milk: 140 g .*Still ordered\? Ask/],
    rows: milk8(),
  },
  "an older open order of another diet": {
    plans: [calm("P1"), "P1,2025-05-08 06:00,,mash,30,,2,,,,"],
    said: [/Not ended: still ordered\? Ask\. milk: 140 g .*in no total/],
    rows: [" | mash | 30 g", " | mash | 30 g"],
  },
  "an order of the last 24 hours is new, the former beside it": {
    plans: [calm("P1"), "P1,2025-05-10 14:00,,milk,150,,8,,,,"],
    said: [/NEW since 10 May(?: 2025)? 14:00\. Before: milk: 140 g a feed, 8 feeds a day/],
    rows: milk8("150 g"),
  },
  "fewer times than feeds": {
    plans: ["P1,2025-05-08 06:00,,milk,140,,8,07:00 19:00,,,"],
    said: [/8 feeds a day are ordered for milk, but only 2 times: 07:00 and 19:00/],
    rows: ["07:00 | milk | 140 g", "19:00 | milk | 140 g"],
  },
  "a correction with the same begin": {
    plans: ["P1,2025-05-08 06:00,,milk,140,,8,,,,", "P1,2025-05-08 06:00,,milk,120,,8,,,,"],
    said: [/Two lines for milk in one order/],
    rows: [...milk8("120 g"), ...milk8("140 g")],
  },
  "a feed over a tenth of the body mass": {
    plans: ["P1,2025-05-01 06:00,,milk,1400,,8,,,,"],
    // 4300 + 9 x 45 = 4705 g on 10 May; 1400 g are 29.8 %.
    said: [
      /DANGER: a feed of 1400 g is 30 % of the last sure mass \(4705 g\).*Do not feed until spoken/,
    ],
    rows: milk8("1400 ? ask"),
  },
  "two diets at one time that are over a tenth together": {
    plans: ["P1,2025-05-01 06:00,,milk,300,,,07:00,,,", "P1,2025-05-01 06:00,,mash,200,,,07:00,,,"],
    said: [/DANGER: a feed of 200 g \+ 300 g is 11 %|DANGER: a feed of 300 g \+ 200 g is 11 %/],
    rows: ["07:00 | mash | 200 ? ask", "07:00 | milk | 300 ? ask"],
  },
  "a volume is held against the mass too, without a density": {
    plans: ["P1,2025-05-01 06:00,,rich,,500,8,,,,"],
    said: [/DANGER: a feed of 500 mL is 11 %/],
    rows: new Array(8).fill(" | rich | 500 mL ? ask"),
  },
  "a feed under a third of the usual one": {
    plans: ["P1,2025-05-01 06:00,,milk,14,,8,,,,"],
    said: [/A feed of 14 g is 10 % of its usual feed \(140 g\)/],
    rows: milk8("14 ? ask"),
  },
  "a day far off the order before": {
    plans: [calm("P1"), "P1,2025-05-10 14:00,,milk,140,,12,,,,"],
    // 12 x 140 g against 8 x 140 g: half as much again.
    said: [/The day ordered \(1680 g\) is 50 % more than the order before \(1120 g\)/],
    rows: new Array(12).fill(" | milk | 140 ? ask"),
  },
  "a diet whose stated energy is in kJ": {
    plans: ["P1,2025-05-01 06:00,,rich,140,,8,,,,"],
    diets:
      "diet_id,name,kind,water_pct,protein_pct,fat_pct,carbohydrate_pct,fibre_pct,ash_pct,energy_kcal_per_g\n" +
      "milk,Milk,formula,81.4,7.2,6.9,3.7,0,0.8,1.06\nrich,Rich milk,formula,78,8,9,4.2,0,0.8,5.43\n",
    // 4 x 8 + 9 x 9 + 4 x 4.2 = 129.8 kcal in 100 g; times 4.184 it is 5.43.
    said: [/rich: the stated 5\.43 kcal\/g is .* off its composition \(1\.3 kcal\/g\); is it kJ\?/],
    rows: new Array(8).fill(" | rich | 140 ? ask"),
  },
  "no sure mass": {
    plans: [calm("P1")],
    weighings: ["P2,2025-05-10 06:40,5100,dry,before"],
    said: [/Could not be checked: feeds against mass \(no sure mass\)/],
    rows: milk8(),
  },
  "grams that cannot be read": {
    plans: ["P1,2025-05-08 06:00,,milk,46 x 12,,8,,,,"],
    said: [/“46 x 12” \(amount of a feed of milk\) could not be read: ask/],
    rows: milk8("46 x 12 ? ask"),
  },
  "a begin that cannot be read": {
    plans: ["P1,after lunch,,milk,333,,8,,,,"],
    said: [
      /A line of the orders could not be used: “P1, after lunch, milk, 333, 8” \(plans\.csv, line 2\)/,
    ],
    rows: [],
  },
  "a note with an order in it": {
    plans: ["P1,2025-05-08 06:00,,milk,140,,8,,,,NPO from 22:00"],
    said: [/speaks of nothing by mouth: “NPO from 22:00”/],
    rows: milk8(),
  },
  "no order at all": {
    plans: [],
    said: [/No order in the file: ask now\./, /Fed in the last 24 hours: \d+ feeds/],
    rows: [],
  },
  "an order for an animal that nobody knows, while this one has none": {
    plans: ["P11,2025-05-08 06:00,,milk,140,,8,,,,"],
    said: [/A line of the orders fits no animal: “P11, 2025-05-08 06:00, milk, 140, 8”/],
    rows: [],
  },
  "an order of an animal on hold": {
    plans: [calm("P1")],
    observations: ["P1,2025-05-10 20:00,vomit,large,,", "P1,2025-05-10 21:00,vomit,large,,"],
    said: [/do not feed until the veterinarian has spoken/i, /milk: 140 g a feed/],
    rows: milk8(),
  },
};

describe("orders on the hand-over and the feeding sheet", () => {
  let without: Pages;
  beforeAll(async () => {
    without = await pagesOf({ plans: [calm("P1")] });
  });
  /** What also stands on the calm page says nothing of the case. */
  const everyday = new Set([
    "times that nobody ordered are blank, and the usual hours are habit",
    "an order of an animal on hold",
  ]);

  it.each(Object.entries(cases))("%s", async (name, each) => {
    const pages = await pagesOf(each);
    if (each.rows !== undefined) expect(pages.rows("P1")).toEqual(each.rows);
    for (const words of each.said ?? []) {
      for (const page of ["hand-over", "sheet"] as const) {
        // What is not due today may be due on the other page's day.
        expect(pages.above(page, "P1"), page).toMatch(words);
        if (everyday.has(name)) continue;
        expect(pages.above(page, "P2"), `${page} of P2`).not.toMatch(words);
        expect(without.above(page, "P1"), `${page} without the case`).not.toMatch(words);
      }
    }
    for (const page of ["hand-over", "sheet"] as const) {
      const inFile = each.plans.some((line) => line.startsWith("P1,"));
      if (inFile) expect(pages.above(page, "P1")).not.toMatch(/no order in the file/i);
      expect(pages.above(page, "P1")).not.toMatch(/no plan is in force/i);
    }
    expect(pages.rows("P2").length).toBe(8);
  });

  it("a danger stands before everything else said in the block", async () => {
    const pages = await pagesOf(cases["a feed over a tenth of the body mass"]!);
    for (const page of ["hand-over", "sheet"] as const)
      expect(pages.above(page, "P1")).toMatch(/^Bramble \(P1\), sea otter (?:DANGER|DO NOT FEED)/);
  });

  it("an order for an animal that is not in the animals table stands in a block of its own", async () => {
    const pages = await pagesOf({ plans: [calm("P1"), "Q7,2025-05-08 06:00,,milk,90,,8,,,,"] });
    for (const page of ["hand-over", "sheet"] as const)
      expect(pages.above(page, "Q7")).toMatch(/milk: 90 g a feed, 8 feeds a day/);
    expect(pages.rows("Q7")).toEqual(milk8("90 g"));
  });

  it("bounds are the study's own where study.json has them", async () => {
    const plans = ["P1,2025-05-01 06:00,,milk,300,,4,,,,"];
    const wide = await pagesOf({ plans });
    expect(wide.above("sheet", "P1")).not.toMatch(/DANGER/);
    const narrow = await pagesOf({ plans, settings: { order_bounds: { feed_pct_of_mass: 5 } } });
    expect(narrow.above("sheet", "P1")).toMatch(
      /DANGER: a feed of 300 g is 6\.4 %.*the bound is 5 %/,
    );
    const off = await pagesOf({
      plans: ["P1,2025-05-01 06:00,,milk,1400,,8,,,,"],
      settings: { order_bounds: { feed_pct_of_mass: null } },
    });
    expect(off.above("sheet", "P1")).not.toMatch(/DANGER/);
  });

  it("a newcomer seen to be thin, or of unknown condition, is not fed up in a day unasked", async () => {
    const plans = ["P1,2025-05-01 06:00,,milk,100,,8,,,,", "P1,2025-05-10 14:00,,milk,130,,8,,,,"];
    const of = async (admitted: string, observations: readonly string[]) => {
      const files = filesOf({ plans, observations });
      const animals = files["animals.csv"].replace("2025-03-24 14:00", admitted);
      const inputs = Object.entries({ ...files, "animals.csv": animals }).map(([path, text]) => ({
        path,
        bytes: Buffer.from(text),
      }));
      const { value } = await askHandOver(parseStudy(inputs), { onDay: "2025-05-10" });
      return plain(feedingSheet(value, []));
    };
    expect(await of("2025-05-06 10:00", ["P1,2025-05-06 11:00,exam,,,thin but alert"])).toMatch(
      /A newcomer seen to be thin would get 30 % more kcal than the day before/,
    );
    expect(await of("2025-05-06 10:00", [])).toMatch(/whose condition is not known would get 30 %/);
    expect(await of("2025-05-06 10:00", ["P1,2025-05-06 11:00,condition score,3,,"])).not.toMatch(
      /newcomer/,
    );
    expect(await of("2025-03-24 14:00", [])).not.toMatch(/newcomer/);
  });
});
