import { dullStudy, planLines, plansHead } from "./dull-study.js";
import type { PageWords, RecordSet } from "./record-set.js";

const times = "07:00 10:00 13:00 16:00 19:00 22:00 01:00 04:00";
const noPlan = /no plan is in force|no plan that says/i;

/** The study with other plans for P1; P2 keeps its own. The printed day begins on 11 May at 06:00. */
function plans(name: string, lines: readonly string[], p1: PageWords): RecordSet {
  const text = [plansHead, ...lines, planLines[1]!, ""].join("\n");
  return { name, files: dullStudy({ put: { plans: text } }), pages: { P1: p1, P2: p2 } };
}

/** Whatever is ordered for P1, P2 gets what was ordered for it. */
const p2: PageWords = { ordered: ["8 x 150 g milk"] };

const open = planLines[0]!;

export const orders: readonly RecordSet[] = [
  plans("one order, open", [open], { ordered: ["8 x 140 g milk"] }),
  plans(
    "two open orders of one diet: the newest is in force",
    [open, `P1,2025-05-08 06:00,,milk,160,8,${times},,A. Vellum`],
    { ordered: ["8 x 160 g milk"], sheet: { never: [/2,?400/] } },
  ),
  plans(
    "an order of twelve feeds of 96 g and two of 20 g",
    ["P1,2025-05-08 06:00,,milk,96,12,,,A. Vellum", "P1,2025-05-08 06:00,,mash,20,2,,,A. Vellum"],
    { ordered: ["12 x 96 g milk", "2 x 20 g mash"] },
  ),
  plans(
    "a solid ordered and never yet fed",
    [open, `P1,2025-05-01 06:00,,mash,30,2,10:00 16:00,,A. Vellum`],
    { ordered: ["8 x 140 g milk", "2 x 30 g mash"] },
  ),
  plans(
    "two formulas in one order",
    [
      `P1,2025-05-08 06:00,,milk,100,8,${times},,A. Vellum`,
      `P1,2025-05-08 06:00,,rich,40,8,${times},,A. Vellum`,
    ],
    { ordered: ["8 x 100 g milk", "8 x 40 g rich"] },
  ),
  plans("a number of feeds without times", ["P1,2025-05-01 06:00,,milk,140,8,,,A. Vellum"], {
    ordered: ["8 x 140 g milk"],
    sheet: { says: [/times? (were |was |is |are )?not ordered|no times? (were |was )?ordered/i] },
  }),
  plans(
    "an order that ends on a date holds for that whole feeding day",
    [`P1,2025-05-01 06:00,2025-05-11,milk,140,8,${times},,A. Vellum`],
    { ordered: ["8 x 140 g milk"], sheet: { never: [noPlan] } },
  ),
  plans(
    "an order that ends at the end of the printed day",
    [`P1,2025-05-01 06:00,2025-05-12 06:00,milk,140,8,${times},,A. Vellum`],
    { ordered: ["8 x 140 g milk"], sheet: { never: [noPlan] } },
  ),
  plans("nil by mouth as the diet", [open, "P1,2025-05-10 18:00,,nil by mouth,,,,,A. Vellum"], {
    ordered: [],
    sheet: { says: [/nil by mouth/i] },
    handOver: { says: [/nil by mouth/i] },
  }),
  plans("NPO in the cell of the grams", [open, "P1,2025-05-10 18:00,,milk,NPO,,,,A. Vellum"], {
    ordered: [],
    sheet: { says: [/nil by mouth|\bNPO\b/i], never: [noPlan] },
    handOver: { says: [/nil by mouth|\bNPO\b/i] },
  }),
  plans("nothing by mouth, in capitals", [open, "P1,2025-05-10,,NOTHING BY MOUTH,,,,,A. Vellum"], {
    ordered: [],
    sheet: { says: [/n(il|othing) by mouth/i] },
  }),
  plans("zero grams of the only diet", [open, "P1,2025-05-10 06:00,,milk,0,,,,A. Vellum"], {
    ordered: [],
    sheet: { says: [/n(il|othing) by mouth|\b0 g\b/i], never: [noPlan] },
  }),
  plans(
    "zero grams of one diet of two: the other stands",
    [
      `P1,2025-05-05 06:00,,milk,140,8,${times},,A. Vellum`,
      "P1,2025-05-05 06:00,,mash,30,2,10:00 16:00,,A. Vellum",
      "P1,2025-05-09 06:00,,mash,0,,,,A. Vellum",
    ],
    { ordered: ["8 x 140 g milk"], sheet: { says: [/\bask\b/i] } },
  ),
  plans(
    "an older open order of a diet that the new one does not name",
    [open, "P1,2025-05-09 06:00,,mash,30,2,10:00 16:00,,A. Vellum"],
    { ordered: ["2 x 30 g mash"], sheet: { says: [/not ended|still ordered/i], still: [/140 g/] } },
  ),
  plans(
    "an older order with its end written stands beside the new one",
    [
      `P1,2025-05-01 06:00,2025-05-20,milk,140,8,${times},,A. Vellum`,
      "P1,2025-05-09 06:00,,mash,30,2,10:00 16:00,,A. Vellum",
    ],
    { ordered: ["8 x 140 g milk", "2 x 30 g mash"], sheet: { never: [/still ordered/i] } },
  ),
  plans(
    "more at night than by day, as two rows of one order",
    [
      "P1,2025-05-05 06:00,,milk,130,5,07:00 10:00 13:00 16:00 19:00,,A. Vellum",
      "P1,2025-05-05 06:00,,milk,160,3,22:00 01:00 04:00,,A. Vellum",
    ],
    { ordered: ["5 x 130 g milk", "3 x 160 g milk"] },
  ),
  {
    ...plans("the same order entered twice", [open, open], { ordered: ["8 x 140 g milk"] }),
    asked: [{ table: "plans", row: "P1,2025-05-01 06:00", equal: true }],
  },
  plans("an order by volume", [`P1,2025-05-05 06:00,,milk,136 mL,8,${times},,A. Vellum`], {
    ordered: ["8 x 136 mL milk"],
  }),
  plans(
    "an order by volume of a diet without a density",
    [`P1,2025-05-05 06:00,,rich,100 mL,8,${times},,A. Vellum`],
    { ordered: ["8 x 100 mL rich"], sheet: { never: [noPlan] } },
  ),
  plans(
    "an order for some days of the week is named where it cannot be printed",
    ["P1,2025-05-05 06:00,,milk,140,,Mon Wed Fri 10:00,,A. Vellum"],
    { sheet: { says: [/Mon Wed Fri/], never: [noPlan] } },
  ),
  plans(
    "an order that begins inside the printed day",
    [open, `P1,2025-05-11 18:00,,milk,160,8,${times},,A. Vellum`],
    { ordered: ["4 x 140 g milk", "4 x 160 g milk"] },
  ),
  plans(
    "an order that ends inside the printed day, and none after it",
    [`P1,2025-05-01 06:00,2025-05-11 18:00,milk,140,8,${times},,A. Vellum`],
    { ordered: ["4 x 140 g milk"], sheet: { says: [/\bask\b|no order/i] } },
  ),
  plans(
    "after a passing order nothing revives",
    [open, `P1,2025-05-08 06:00,2025-05-10 06:00,milk,100,8,${times},,A. Vellum`],
    { ordered: [], sheet: { says: [/\bask\b/i], still: [/140 g/] } },
  ),
  plans(
    "an order of the last 24 hours is marked new, with the former beside it",
    [open, `P1,2025-05-10 12:00,,milk,160,8,${times},,A. Vellum`],
    { ordered: ["8 x 160 g milk"], sheet: { says: [/\bnew\b/i], still: [/140 g/] } },
  ),
  plans(
    "times fewer than feeds: the times are kept and both are said",
    ["P1,2025-05-05 06:00,,milk,140,8,07:00 13:00 19:00 01:00,,A. Vellum"],
    {
      ordered: ["4 x 140 g milk"],
      sheet: { says: [/\b4\b.*\b8\b|\b8\b.*\b4\b|eight.*four|four.*eight/i] },
    },
  ),
  plans(
    "a feed of more than a tenth of the body mass is doubted",
    [open, `P1,2025-05-09 06:00,,milk,1400,8,${times},,A. Vellum`],
    { sheet: { says: [/1,?400 \? ask/] }, handOver: { says: [/1,?400/] } },
  ),
  plans(
    "a feed under a third of the usual one is doubted",
    [open, `P1,2025-05-09 06:00,,milk,40,8,${times},,A. Vellum`],
    { sheet: { says: [/40 \? ask/] } },
  ),
  plans("grams that cannot be read are shown as written", [open.replace(",140,", ",one bottle,")], {
    sheet: { says: [/one bottle/], never: [noPlan] },
    handOver: { says: [/one bottle/] },
  }),
];
