import { dullStudy, planLines, plansHead } from "./dull-study.js";
import type { PageWords, RecordSet } from "./record-set.js";

const times = "07:00 10:00 13:00 16:00 19:00 22:00 01:00 04:00";
const noPlan = /no plan is in force|no plan that says/i;

function plans(name: string, lines: readonly string[], p1: PageWords): RecordSet {
  const text = [plansHead, ...lines, planLines[1]!, ""].join("\n");
  return {
    name,
    files: dullStudy({ put: { plans: text } }),
    pages: { P1: p1, P2: { ordered: ["8 x 150 g milk"] } },
  };
}

const open = planLines[0]!;

/** Orders of the same classes in other shapes, written after the first ones were read. */
export const siblingOrders: readonly RecordSet[] = [
  plans("an order that begins on a date", [open, `P1,2025-05-09,,milk,160,8,${times},,A. Vellum`], {
    ordered: ["8 x 160 g milk"],
  }),
  plans(
    "one row of an order has ended, the other stands",
    [
      `P1,2025-05-05 06:00,2025-05-20,milk,140,8,${times},,A. Vellum`,
      "P1,2025-05-05 06:00,2025-05-09,mash,30,2,10:00 16:00,,A. Vellum",
    ],
    { ordered: ["8 x 140 g milk"] },
  ),
  plans(
    "nil per os in the cell of the grams",
    [open, "P1,2025-05-10 12:00,,milk,nil per os,,,,A. Vellum"],
    {
      ordered: [],
      sheet: { says: [/nil (per os|by mouth)/i], never: [noPlan] },
    },
  ),
  plans("n.p.o. with points, as the diet", [open, "P1,2025-05-10 12:00,,n.p.o.,,,,,A. Vellum"], {
    ordered: [],
    sheet: { says: [/n\.p\.o\.|nil by mouth/i], never: [noPlan] },
  }),
  plans(
    "nil by mouth, and fed again by a newer order",
    [
      open,
      "P1,2025-05-08 06:00,,nil by mouth,,,,,A. Vellum",
      `P1,2025-05-09 06:00,,milk,100,8,${times},,A. Vellum`,
    ],
    { ordered: ["8 x 100 g milk"] },
  ),
  plans(
    "nil by mouth for one day, now over: what came before does not revive",
    [open, "P1,2025-05-08 06:00,2025-05-09 06:00,nil by mouth,,,,,A. Vellum"],
    { ordered: [], sheet: { says: [/\bask\b/i] } },
  ),
  plans("an order in ounces", [`P1,2025-05-05 06:00,,milk,5 oz,8,${times},,A. Vellum`], {
    sheet: { says: [/\b5 oz\b|141[.\d]* g|142 g/], never: [noPlan] },
  }),
  plans(
    "an order in energy is named where it cannot be printed",
    [`P1,2025-05-05 06:00,,milk,150 kcal,8,${times},,A. Vellum`],
    {
      sheet: { says: [/150 kcal/], never: [noPlan] },
    },
  ),
  plans(
    "clock times without a colon",
    ["P1,2025-05-05 06:00,,milk,140,,0700 1300 1900 0100,,A. Vellum"],
    {
      ordered: ["4 x 140 g milk"],
    },
  ),
  plans(
    "clock times with am and pm are read or shown",
    ["P1,2025-05-05 06:00,,milk,140,,7am 1pm 7pm,,A. Vellum"],
    {
      sheet: { still: [/7 ?am|07:00/], never: [noPlan] },
    },
  ),
  plans(
    "an order of next week is not yet in force",
    [open, `P1,2025-05-20 06:00,,milk,200,8,${times},,A. Vellum`],
    {
      ordered: ["8 x 140 g milk"],
    },
  ),
  plans(
    "an order whose beginning cannot be read is shown as written",
    [open, `P1,as of tomorrow,,milk,200,8,${times},,A. Vellum`],
    {
      sheet: { says: [/as of tomorrow/] },
    },
  ),
  plans(
    "a row with a target and no amount orders nothing",
    ["P1,2025-05-05 06:00,,,,,,6000,A. Vellum"],
    {
      ordered: [],
    },
  ),
  plans(
    "three open orders one after the other",
    [
      open,
      `P1,2025-05-04 06:00,,milk,150,8,${times},,A. Vellum`,
      `P1,2025-05-08 06:00,,milk,155,8,${times},,A. Vellum`,
    ],
    { ordered: ["8 x 155 g milk"] },
  ),
  plans(
    "two orders of one beginning that differ stand both",
    [
      "P1,2025-05-05 06:00,,milk,140,4,07:00 13:00 19:00 01:00,,A. Vellum",
      "P1,2025-05-05 06:00,,milk,120,4,10:00 16:00 22:00 04:00,,A. Vellum",
    ],
    { ordered: ["4 x 140 g milk", "4 x 120 g milk"] },
  ),
];
