import { dullStudy, planLines, plansHead } from "./dull-study.js";
import type { PageWords, RecordSet } from "./record-set.js";

const times = "07:00 10:00 13:00 16:00 19:00 22:00 01:00 04:00";
const noPlan = /no plan is in force|no plan that says/i;

function plans(
  name: string,
  lines: readonly string[],
  p1: PageWords,
  more: Partial<RecordSet> = {},
): RecordSet {
  const text = [plansHead, ...lines, planLines[1]!, ""].join("\n");
  return {
    name,
    files: dullStudy({ put: { plans: text } }),
    pages: { P1: p1, P2: { ordered: ["8 x 150 g milk"] } },
    ...more,
  };
}

const open = planLines[0]!;
/** The order of P1 with other grams, number of feeds and times. */
const order = (cells: string) => `P1,2025-05-05 06:00,,milk,${cells},,A. Vellum`;
/** It cannot be printed as feeds, and stands on the sheet as it was written. */
const asWritten = (words: RegExp): PageWords => ({
  ordered: [],
  sheet: { says: [words], never: [noPlan] },
});

/** A third round of orders: ends, amounts and times as people write them. */
export const laterOrders: readonly RecordSet[] = [
  plans(
    "an order that ends before it begins",
    [open, `P1,2025-05-09 06:00,2025-05-01,milk,160,8,${times},,A. Vellum`],
    { sheet: { says: [/160/], never: [noPlan] } },
    { asked: [{ table: "plans", row: "2025-05-09 06:00,2025-05-01" }] },
  ),
  plans("feed times between semicolons", [order(`140,8,${times.replaceAll(" ", ";")}`)], {
    ordered: ["8 x 140 g milk"],
  }),
  plans("a number of feeds written 8x", [order(`140,8x,${times}`)], {
    ordered: ["8 x 140 g milk"],
  }),
  plans("grams with their unit", [order(`140 g,8,${times}`)], { ordered: ["8 x 140 g milk"] }),
  plans("six to eight feeds", [order("140,6-8,")], {
    sheet: { says: [/6-8/], never: [noPlan] },
  }),
  plans("140 to 150 g a feed", [order(`140-150,8,${times}`)], asWritten(/140-150/)),
  plans("grams a day in the cell of grams a feed", [order(`1120 g/day,8,${times}`)], {
    sheet: { says: [/1120 g\/day \? ask/], never: [noPlan, /1,?120 g a feed/] },
  }),
  plans("as before, in the cell of the grams", [order(`as before,8,${times}`)], {
    ...asWritten(/as before/),
  }),
  plans("a feed every three hours", [order("140,,every 3 h")], {
    sheet: { says: [/every 3 h/], never: [noPlan] },
  }),
  plans("a feed time that does not exist", [order("140,,07:00 13:00 25:00")], {
    sheet: { says: [/25:00/], never: [noPlan] },
  }),
  plans(
    "hold feeds, in the cell of the grams",
    [open, "P1,2025-05-10 18:00,,milk,hold feeds,,,,A. Vellum"],
    {
      sheet: { says: [/hold feeds/i], never: [noPlan] },
      handOver: { says: [/hold feeds/i] },
    },
  ),
  plans("NPO in the cell of the feeds", [open, "P1,2025-05-10 18:00,,milk,,NPO,,,A. Vellum"], {
    ordered: [],
    sheet: { says: [/nil by mouth|\bNPO\b/i], never: [noPlan] },
    handOver: { says: [/nil by mouth|\bNPO\b/i] },
  }),
  plans(
    "fed at 19:00, nothing by mouth since 18:00",
    [open, "P1,2025-05-10 18:00,,nil by mouth,,,,,A. Vellum"],
    {
      ordered: [],
      sheet: { says: [/fed while nothing by mouth/i] },
      handOver: { says: [/fed while nothing by mouth/i, /140 g offered/] },
    },
  ),
  plans(
    "nothing by mouth after the last feed",
    [open, "P1,2025-05-10 19:05,,nil by mouth,,,,,A. Vellum"],
    { ordered: [], handOver: { never: [/fed while/i] }, sheet: { never: [/fed while/i] } },
  ),
  plans(
    "a diet that is in no table",
    [`P1,2025-05-05 06:00,,mlik,140,8,${times},,A. Vellum`],
    {
      sheet: { says: [/mlik/], never: [noPlan] },
    },
    { asked: [{ table: "plans", row: "mlik" }] },
  ),
  // 8 x 220 g is 57 % more than the 8 x 140 g before it, and each is 4.7 % of the body mass.
  plans(
    "a day half as much again as the former order is doubted",
    [open, `P1,2025-05-10 06:00,,milk,220,8,${times},,A. Vellum`],
    { sheet: { says: [/220 \? ask/] } },
  ),
  {
    // 1.06 kcal/g is 4.44 kJ/g: the energy of the label was written in the wrong unit.
    ...plans("a diet whose energy is in kilojoules is doubted", [open], {
      sheet: { says: [/140 \? ask/, /energy|kcal/i] },
    }),
    files: dullStudy({
      put: {
        diets:
          "diet_id,name,kind,water_pct,protein_pct,fat_pct,carbohydrate_pct,fibre_pct,ash_pct,energy_kcal_per_g\nmilk,Milk,formula,81.4,7.2,6.9,3.7,0,0.8,4.44\n",
      },
    }),
    pages: { P1: { sheet: { says: [/140 \? ask/, /energy|kcal/i] } } },
  },
  plans(
    "one order for two animals in one cell",
    [open, `P1/P2,2025-05-09 06:00,,milk,170,8,${times},,A. Vellum`],
    { sheet: { says: [/P1\/P2/] } },
    { asked: [{ table: "plans", row: "P1/P2" }] },
  ),
  plans(
    "an order that was taken back is nil of its diet alone",
    [
      `P1,2025-05-05 06:00,,milk,140,8,${times},,A. Vellum`,
      `P1,2025-05-05 06:00,,rich,30,8,${times},,A. Vellum`,
      "P1,2025-05-09 06:00,,rich,0,,,,A. Vellum",
    ],
    { ordered: ["8 x 140 g milk"], sheet: { says: [/\bask\b/i] } },
  ),
];
