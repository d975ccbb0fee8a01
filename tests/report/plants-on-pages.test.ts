import { beforeAll, describe, expect, it } from "vitest";
import { idOf, nameOf, type PageName, type Plant, type Ward, wardOf } from "./ward-of-plants.js";

/**
 * Everything that a keeper may write otherwise, each planted in one animal of a calm
 * ward: what a careful person reads there must stand in that animal's own block of
 * the hand-over and of the feeding sheet, above every fold and every table, in no
 * other animal's block, and not without the plant. What is said was written down from
 * what the words mean, not from what the pages said.
 */
interface Case extends Plant {
  /** On the hand-over and the sheet. */
  readonly says?: readonly RegExp[];
  /** On one of the three pages. */
  readonly only?: Partial<Record<PageName, readonly RegExp[]>>;
  /** In no block of the animal. */
  readonly never?: readonly RegExp[];
  /** Rows of the sheet with an amount; "calm" for those of the calm order. */
  readonly rows?: readonly string[] | "calm";
}

const times = "07:00 10:00 13:00 16:00 19:00 22:00 01:00 04:00";
const calmRows = times.split(" ").map((time) => `${time} 140 g milk`);
const order = "ID,2025-05-03 06:00,,milk,140,8";
const plan = (line: string): Plant => ({ add: { plans: [line] } });
const inPlaceOf = (...plans: string[]): Plant => ({ put: { plans } });
const sign = (...lines: string[]): Plant => ({
  add: { observations: lines.map((line) => `ID,2025-05-10 ${line}`) },
});
const feed = "ID,2025-05-10 19:00,milk,140,0,bottle,";
const lastFeed = (cells: string): Plant => ({
  swap: { feeds: [[feed, `ID,2025-05-10 19:00,${cells}`]] },
});
const weighed = (cells: string): Plant => ({
  swap: { weighings: [["ID,2025-05-10 06:30,4709,0,", `ID,2025-05-10 06:30,${cells},`]] },
});
const animal = (from: string, to: string): Plant => ({ swap: { animals: [[from, to]] } });

const hold = /do not feed/i;
const call = /call the veterinarian/i;
const unread = /could not be read/;
const asked = /Ask whoever wrote it/;
const nil = /NOTHING BY MOUTH/;

const cases: Readonly<Record<string, Case>> = {
  // 1. Orders.
  "fasting, from an hour before the last feed": {
    ...plan("ID,2025-05-10 18:00,,fasting,,,,,A. Vellum"),
    says: [nil, /“fasting”/, /FED WHILE NOTHING BY MOUTH WAS ORDERED/, hold],
    only: { "hand-over": [/nothing by mouth/], day: [hold] },
    rows: [],
  },
  "nothing by mouth with a reason beside it": {
    ...plan("ID,2025-05-10 19:05,,N.P.O. (surgery),,,,,A. Vellum"),
    says: [nil, /“N\.P\.O\. \(surgery\)”/, /says more than nothing by mouth: ask from when/],
    never: [/FED WHILE/],
    rows: [],
  },
  "nothing until, in the cell of the grams": {
    ...plan("ID,2025-05-10 19:05,,milk,nothing until vet has seen it,,,,A. Vellum"),
    says: [nil, /nothing until vet has seen it/],
    rows: [],
  },
  "feeds withheld, in another tongue": {
    ...plan("ID,2025-05-10 19:05,,nüchtern,,,,,A. Vellum"),
    says: [nil, /nüchtern/],
    rows: [],
  },
  "nothing by mouth from tomorrow afternoon: the sheet stops there": {
    ...plan("ID,2025-05-11 14:00,,nil by mouth,,,,,A. Vellum"),
    only: { sheet: [/NOTHING BY MOUTH from 11 May 14:00/] },
    rows: calmRows.slice(0, 3),
  },
  "a new order of this afternoon is in force now, the former only beside it": {
    ...plan(`ID,2025-05-10 14:00,,milk,150,8,${times},,A. Vellum`),
    says: [/milk: 150 g a feed/, /NEW since 10 May.* Before: milk: 140 g a feed/],
    only: { "hand-over": [/150 g milk/] },
    rows: calmRows.map((row) => row.replace("140", "150")),
  },
  "an order for weekdays alone, on a weekend": {
    ...inPlaceOf(`${order},${times},,A. Vellum,,weekdays,`),
    says: [/Nothing is ordered for this day: every line in force is for other days/],
    never: [/no order in the file/i],
    rows: [],
  },
  "an order in ounces": {
    ...inPlaceOf("ID,2025-05-08 06:00,,milk,5 oz,8,,,A. Vellum"),
    says: [/milk: 5 oz a feed, 8 feeds a day/],
    rows: new Array(8).fill("5 oz milk"),
  },
  "an order in kilograms, times fewer than feeds": {
    ...inPlaceOf("ID,2025-05-08 06:00,,milk,0.14 kg,8,07:00 10:00,,A. Vellum"),
    says: [/8 feeds a day are ordered for milk, but only 2 times: 07:00 and 10:00/],
    rows: ["07:00 0.14 kg milk", "10:00 0.14 kg milk"],
  },
  "grams where kilograms were meant": {
    ...plan(`ID,2025-05-10 12:00,,milk,0.14,8,${times},,A. Vellum`),
    says: [/A feed of 0\.14 g is 0\.1 % of its usual feed \(140 g\)/],
    rows: calmRows.map((row) => row.replace("140 g", "0.14 ? ask")),
  },
  "a change that is no amount": {
    ...plan(`ID,2025-05-10 12:00,,milk,+10,8,${times},,A. Vellum`),
    says: [/A feed of \+10 g is 7\.1 % of its usual feed/],
  },
  "a range": {
    ...plan(`ID,2025-05-10 12:00,,milk,130-150,8,${times},,A. Vellum`),
    says: [/“130-150” \(amount of a feed of milk\) could not be read: ask/],
    rows: calmRows.map((row) => row.replace("140 g", "130-150 ? ask")),
  },
  "a share of body mass": {
    ...plan(`ID,2025-05-10 12:00,,milk,3 % BW,8,${times},,A. Vellum`),
    says: [/“3 % BW” \(amount of a feed of milk\) could not be read: ask/],
  },
  "the day's total in the cell of a feed": {
    ...plan(`ID,2025-05-10 12:00,,milk,1120,8,${times},,A. Vellum`),
    says: [/DANGER: a feed of 1120 g is 24 % of the last sure mass \(4709 g\)/, hold],
    only: { day: [/DANGER: a feed of 1120 g/] },
    rows: calmRows.map((row) => row.replace("140 g", "1120 ? ask")),
  },
  "every three hours, in words": {
    ...inPlaceOf("ID,2025-05-08 06:00,,milk,141,q3h,,,A. Vellum"),
    says: [/milk: 141 g a feed, 8 feeds a day/, /Times are not ordered/],
    rows: new Array(8).fill("141 g milk"),
  },
  "an end before the begin": {
    ...inPlaceOf(`ID,2025-05-08 06:00,2025-05-01,milk,142,8,${times},,A. Vellum`),
    says: [/lies before its begin; it is printed as still ordered: ask/],
    rows: calmRows.map((row) => row.replace("140", "142")),
  },
  "an order without its begin": {
    ...inPlaceOf(`ID,,,milk,143,8,${times},,A. Vellum`),
    says: [/A line of the orders could not be used: “W\w+, milk, 143/, /Ask what is ordered/],
    rows: [],
  },
  "a remark that changes an order": {
    ...inPlaceOf(`ID,2025-05-08 06:00,,milk,140,8,${times},,A. Vellum,,,double at night`),
    says: [/“double at night”/],
    rows: "calm",
  },
  "grams and millilitres of one feed that do not fit": {
    ...inPlaceOf(`ID,2025-05-08 06:00,,milk,140,8,${times},,A. Vellum,1400`),
    says: [
      /DANGER: a feed of 140 g, 1400 mL is 31 % of the last sure mass/,
      /The amounts of one feed do not fit each other \(140 g, 1400 mL\)/,
    ],
  },
  "grams and millilitres of one feed that fit by the density": {
    ...inPlaceOf(`ID,2025-05-08 06:00,,milk,140,8,${times},,A. Vellum,136`),
    never: [/do not fit/, /danger/i],
    rows: calmRows.map((row) => row.replace("140 g", "140 g, 136 mL")),
  },
  "an order of another century": {
    ...plan(`ID,2052-05-08 06:00,,milk,160,8,${times},,A. Vellum`),
    says: [/This order begins long after the newest record \(8 May 2052 06:00\)/],
    rows: "calm",
  },
  // 2. Signs.
  "35,1 with a comma": {
    ...sign('18:30,temperature,"35,1",degC,'),
    says: [/Danger, cold: 35\.1 °C/, hold],
    only: { day: [/Danger, cold: 35\.1 °C/] },
  },
  "under 35": {
    ...sign("18:30,temperature,<35,degC,"),
    says: [/Danger, cold: .*<35/, hold],
    never: [/cold: 20 °C/],
  },
  "cold to touch": {
    ...sign("18:30,temperature,cold to touch,,"),
    says: [/Danger, cold/, /cold to touch/, /could not be read as a number/],
  },
  "two temperatures in one cell": {
    ...sign("18:30,temperature,34.9/36.0,degC,"),
    says: [/34\.9\/36\.0/, /gives more than one value/, hold],
  },
  kelvin: { ...sign("18:30,temperature,308 K,,"), says: [unread, /308 K/, /Temperature first/] },
  "an error of the spreadsheet for a temperature": {
    ...sign("18:30,temperature,#N/A,degC,"),
    says: [unread, /#N\/A/],
  },
  "a temperature without its point": {
    ...sign("18:30,temperature,379,degC,"),
    says: [unread, /379/],
  },
  "vomit yes x2": { ...sign("18:30,vomit,yes x2,,"), says: [/repeated vomit/, /yes x2/, hold] },
  "vomit in the notes alone": {
    ...sign("18:30,vomit,,,brought up milk twice"),
    says: [/repeated vomit/, /brought up milk twice/, hold],
  },
  "vomit: a question mark": { ...sign("18:30,vomit,?,,"), says: [unread, /"\?"/] },
  "vomit: neg": { ...sign("18:30,vomit,neg,,"), never: [/vomit.*(seen|look|danger)/i] },
  "vomit: not since noon": {
    ...sign("18:30,vomit,not since noon,,"),
    never: [/second look/i, unread],
  },
  "black tarry stool": {
    ...sign("18:30,stool,black tarry,,"),
    says: [/Danger, blood/, /black tarry/],
  },
  "glucose without a unit that fits both": {
    ...sign("18:30,glucose,2.1,,"),
    says: [/Danger, glucose/, /has no unit/],
  },
  "won't take the bottle": {
    ...sign(`18:30,behaviour,"quiet, won't take bottle",,`),
    says: [/not suckling/, /won't take bottle/, hold],
    only: { day: [hold] },
  },
  "a kind that has no name here, and is grave": {
    ...sign("18:30,respiration,gasping,,"),
    says: [/trouble breathing/, /respiration: gasping/, asked, hold],
    only: { day: [/trouble breathing/] },
  },
  "a kind that has no name here": {
    ...sign("18:30,diarrhoea,yes,,"),
    says: [/watery stool/, /diarrhoea: yes/, asked],
  },
  "seizing, in a note": {
    ...sign("18:30,note,found seizing at 18:20,,"),
    says: [/Danger, convulsion/, hold],
  },
  "found dead, in a note": {
    ...sign("18:30,note,found dead at 18:20,,"),
    says: [/found dead at 18:20/, hold],
    only: { day: [/found dead at 18:20/] },
  },
  "something given for a convulsion": {
    ...sign("18:30,medication,diazepam for seizure,,"),
    says: [/Danger, convulsion/, /diazepam for seizure/, hold],
  },
  "fluids given against dryness, as every day": {
    ...sign("18:30,fluids,SC fluids 50 mL for dehydration,,"),
    never: [/danger/i, /second look/i],
  },
  "all of it came back up, beside a feed": {
    ...lastFeed("milk,140,0,bottle,brought it all back up"),
    says: [/Second look, vomit/, /brought it all back up/],
    only: { day: [/brought it all back up/] },
  },
  "collapsed, beside a weighing": {
    swap: {
      weighings: [
        ["4709,0,b1,platform,dry,before,", "4709,0,b1,platform,dry,before,collapsed on the scale"],
      ],
    },
    says: [/cannot be roused/, /collapsed on the scale/, hold],
  },
  "no urine, twice": {
    ...sign("12:30,urine,none,,", "18:30,urine,none,,"),
    only: { "hand-over": [/Urine: none at 18:30/, /Urine: none at 12:30/] },
  },
  // 3. Cells, rows, animals.
  "an error of the spreadsheet for a tare": {
    ...weighed("4709,#DIV/0!"),
    says: [/#DIV\/0!/, /neither blank nor zero/, /Weigh first/],
  },
  "a tare to be written later": {
    ...weighed("4709,tbd"),
    says: [/"tbd"/, /The tare is not known/, /Weigh first/],
  },
  "a tare left blank where tares are written": {
    ...weighed("4709,"),
    says: [/No tare is written here/, /Weigh first/],
  },
  "a letter among the digits": { ...weighed("47O9,0"), says: [/47O9/, /is 4709 meant\?/] },
  "a point or a comma between thousands": {
    ...weighed('"4,709",0'),
    says: [/may mean 4709 or 4\.709/],
  },
  "a month that does not exist": {
    swap: { weighings: [["ID,2025-05-10 06:30,", "ID,2025-13-05 06:30,"]] },
    says: [/2025-13-05/, /not a date and time that exists/],
  },
  "a weighing of next year": {
    swap: { weighings: [["ID,2025-05-10 06:30,", "ID,2026-05-10 06:30,"]] },
    says: [/No other row lies near this date \(10 May 2026 06:30\)/],
    never: [/line \d+ \(\d/],
  },
  "half was refused, in words": {
    ...lastFeed("milk,140,half,bottle,"),
    says: [/refused "half"/],
    only: { "hand-over": [/Ate 420 to 560 of 560 g/] },
  },
  "an error of the spreadsheet for a refusal": {
    ...lastFeed("milk,140,#VALUE!,bottle,"),
    says: [/#VALUE!/],
    only: { "hand-over": [/Ate 420 to 560 of 560 g/] },
  },
  "more refused than offered": {
    ...lastFeed("milk,140,150,bottle,"),
    says: [/More was refused \(150 g\) than offered \(140 g\)/],
    only: { "hand-over": [/a feed is in doubt/] },
    never: [/refused not written/],
  },
  "a diet that is not quite one": {
    ...lastFeed("mlik,140,0,bottle,"),
    says: [/"mlik" .* is it "milk"\?/],
  },
  "a birth in spring": {
    ...animal("2025-03-20,2025-03-20,observed", "spring 2025,,observed"),
    says: [/spring 2025/],
    rows: "calm",
  },
  "a birth in another century": {
    ...animal("2025-03-20,2025-03-20,observed", "2052-03-20,2052-03-20,observed"),
    says: [/2052-03-20/, /the date was not used/],
    rows: "calm",
  },
  "died, with a question mark": {
    ...animal("in care", "dead?"),
    says: [/"dead\?" is none of the words/],
    rows: "calm",
  },
  "released the day before, and fed since": {
    ...animal("in care,", "released,2025-05-09"),
    says: [/left on 9 May.*but it is fed or weighed since: ask/],
    rows: "calm",
  },
  "died on this very day": {
    ...animal("in care,", "died,2025-05-10"),
    says: [/says “died” for this very day\. Nothing more is due if that is so: ask/],
  },
  "a date of leaving that cannot be read": {
    ...animal("in care,", "released,last week"),
    says: [/"last week"/],
    rows: "calm",
  },
  "a species that is not listed": {
    ...animal("sea otter", "see otter"),
    says: [/"see otter" is not among those of study\.json/],
  },
  "without a row in the animals table": {
    put: { animals: [] },
    says: [/has records and no row in the animals table/],
    rows: "calm",
  },
  "the same id in a season before": {
    add: {
      animals: [
        "ID,NAME,sea otter,female,2024-03-20,2024-03-20,observed,2024-03-24 14:00,2024,released,2024-09-01",
      ],
    },
    says: [/cannot be one animal/],
    rows: "calm",
  },
  "came back": {
    put: {
      animals: [
        "ID,NAME,sea otter,female,2025-03-20,2025-03-20,observed,2025-03-24 14:00,2025,released,2025-05-03",
        "ID,NAME,sea otter,female,2025-03-20,2025-03-20,observed,2025-05-06 09:00,2025,in care,",
      ],
    },
    says: [/read as one animal that came back\. Is that right\?/],
    rows: "calm",
  },
  // 4. Slips.
  "a feed of 7500 g": {
    ...lastFeed("milk,7500,0,bottle,"),
    says: [/The feed of 7500 g .* may be a slip of the pen/],
    only: { "hand-over": [/Ate 420 to 560 of/], day: [/7500 g/] },
  },
  "a feed of 14 g": { ...lastFeed("milk,14,0,bottle,"), says: [/The feed of 14 g .* slip/] },
  "a feed in ounces": {
    ...lastFeed("milk,4.94,0,bottle,"),
    says: [/between 5 and 140 g were eaten/],
    only: { "hand-over": [/ounces and grams exchanged\? Perhaps 140 g/] },
  },
  "the day's total as one feed": {
    ...lastFeed("milk,1120,0,bottle,"),
    says: [/feed far above bounds/, hold],
    only: { "hand-over": [/the day's total entered as one feed\?/] },
  },
  "offered and refused exchanged": {
    ...lastFeed("milk,0,140,bottle,"),
    says: [/The feed of 0 g .* slip/],
    only: { "hand-over": [/offered and refused exchanged\? Perhaps 140 g/] },
  },
  "a feed entered twice, five minutes apart": {
    add: { feeds: ["ID,2025-05-10 19:05,milk,140,0,bottle,"] },
    says: [/The feed of 140 g .* slip/],
    only: { "hand-over": [/one feed entered twice\?/] },
  },
  "14 % lighter than the day before, in doubt": {
    ...weighed("4020,0"),
    says: [/Danger, loss/, /weigh again now/, call],
    only: { day: [/Danger, loss/] },
  },
  "20 % lighter than the day before, in doubt": {
    ...weighed("3725,0"),
    says: [/Danger, loss/, /weigh again now/],
    only: { day: [/Danger, loss/] },
  },
  "6 % lighter": { ...weighed("4370,0"), says: [/Second look, loss/] },
  "kilograms where grams belong": {
    ...weighed("4.709,0"),
    says: [/impossible for sea otter/, /Weigh first/],
    only: { "hand-over": [/kilograms written where grams belong\? 4709 g/] },
  },
  "ten times as heavy": {
    ...weighed("47090,0"),
    says: [/impossible for sea otter/, /Weigh first/],
    only: { "hand-over": [/a decimal place too high\? 4709 g/] },
  },
  "nothing written since noon": {
    leaveOut: { feeds: /^ID,2025-05-10 1[369]/ },
    says: [/Go and look now/i, /a feed missed or not written/],
    only: { day: [/Go and look/i] },
  },
};

const all = Object.entries(cases);
const pages: readonly PageName[] = ["hand-over", "sheet", "day"];

describe("what a keeper writes otherwise, on the pages", () => {
  let planted: Ward;
  let calmWard: Ward;
  beforeAll(async () => {
    planted = await wardOf(all.map(([, each]) => each));
    calmWard = await wardOf(all.map(() => ({})));
  });

  it("holds 60 plants and more, and a calm ward of as many that says nothing", () => {
    expect(all.length).toBeGreaterThanOrEqual(60);
    expect(calmWard.headline("hand-over")).toMatch(/^Nothing is raised/);
    for (let i = 0; i < all.length; i++) {
      expect(calmWard.rows(idOf(i))).toEqual(calmRows);
      for (const page of pages)
        expect(calmWard.block(page, idOf(i))).not.toMatch(/ask|danger|could not|second look/i);
    }
  });

  it.each(all.map(([name, each], i) => [name, each, idOf(i), nameOf(i)] as const))(
    "%s",
    (_, each, id, name) => {
      for (const page of pages) {
        const block = planted.block(page, id);
        expect(block, page).toMatch(new RegExp(`${name}|${id}`));
        const words = [...(page === "day" ? [] : (each.says ?? [])), ...(each.only?.[page] ?? [])];
        for (const said of words) {
          expect(block, page).toMatch(said);
          expect(calmWard.block(page, id), `${page} without the plant`).not.toMatch(said);
        }
        for (const said of each.never ?? []) expect(block, page).not.toMatch(said);
      }
      const rows = each.rows === "calm" ? calmRows : each.rows;
      if (rows !== undefined) expect(planted.rows(id)).toEqual(rows);
    },
  );

  it("says in the first sentences who gets nothing by mouth, and whose orders must be asked about", () => {
    const at = (name: string) => nameOf(all.findIndex(([each]) => each === name));
    for (const page of ["hand-over", "day"] as const) {
      const [, nilNames = "", askNames = ""] =
        /Nothing by mouth for ([^.]*)\. Ask what is ordered for ([^.]*)\./.exec(
          planted.headline(page),
        ) ?? [];
      expect(nilNames).not.toBe("");
      // Whoever is not named is fed: every one of them, and no count of others.
      const ordered = all.flatMap(([, each], i) => (each.says?.includes(nil) ? [nameOf(i)] : []));
      expect(ordered.length).toBeGreaterThan(3);
      expect(nilNames.split(/, | and /)).toEqual(ordered);
      expect(askNames).not.toContain(at("fasting, from an hour before the last feed"));
    }
  });

  it("whatever is said of one names no other in its block", () => {
    for (let i = 0; i < all.length; i++)
      for (const page of pages) {
        const block = planted.block(page, idOf(i));
        for (let j = 0; j < all.length; j++)
          if (j !== i) expect(block.includes(idOf(j)), `${all[i]![0]}, ${page}`).toBe(false);
      }
  });
});
