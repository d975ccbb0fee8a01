import { dullStudy } from "./dull-study.js";
import { alarm, type RecordSet } from "./record-set.js";

const lastFeed = "P1,2025-05-10 16:00,milk,140,0,bottle,";
const earlier = "P1,2025-05-07 06:30,4564,0,b1,platform,dry,before,";
const last = "P1,2025-05-10 06:30,4709,0,b1,platform,dry,before,";

/** A feed of P1 among its feeds of 140 g: it is kept, doubted, and makes the day's intake a range. */
function doubtedFeed(name: string, cells: string): RecordSet {
  const row = lastFeed.replace("140,0", cells);
  return {
    name: `a feed of ${name}`,
    files: dullStudy({ swap: { feeds: [[lastFeed, row]] } }),
    asked: [{ table: "feeds", row }],
    pages: { P1: { handOver: { says: [/between/i] } } },
  };
}

function doubtedWeighing(name: string, row: string): RecordSet {
  return {
    name: `a weighing ${name}`,
    files: dullStudy({ swap: { weighings: [[earlier, row]] } }),
    asked: [{ table: "weighings", row }],
  };
}

const decisionsHead =
  "animal_id,at,mass_g,decision,new_animal_id,new_at,new_mass_g,new_tare_g,decided_by,decided_on,why";
const tenfold = earlier.replace("4564", "45640");

export const slips: readonly RecordSet[] = [
  doubtedFeed("1400 g: a digit added", "1400,0"),
  doubtedFeed("14 g: a digit left out", "14,0"),
  doubtedFeed("0.14: kilograms for grams", "0.14,0"),
  doubtedFeed("4.9: ounces for grams", "4.9,0"),
  doubtedFeed("1120 g: the day's total as one feed", "1120,0"),
  doubtedFeed("550 g: the bottle not taken off", "550,0"),
  {
    ...doubtedFeed("5 g with 140 g refused: the two exchanged", "5,140"),
    pages: {},
  },
  doubtedWeighing("ten times too heavy", tenfold),
  doubtedWeighing("ten times too light", earlier.replace("4564", "456.4")),
  doubtedWeighing("in pounds among grams", earlier.replace("4564", "10.06")),
  doubtedWeighing("with the bucket still counted", earlier.replace("4564,0", "4974,0")),
  {
    name: "two animals exchanged on one day, 8 % apart",
    files: dullStudy({
      swap: {
        weighings: [
          [earlier, earlier.replace("4564", "4994")],
          ["P2,2025-05-07 06:40,4994", "P2,2025-05-07 06:40,4564"],
        ],
      },
    }),
    asked: [
      { table: "weighings", row: "P1,2025-05-07" },
      { table: "weighings", row: "P2,2025-05-07" },
    ],
  },
  {
    name: "a last reading 12 % below the day before is not hidden",
    files: dullStudy({ swap: { weighings: [[last, last.replace("4709", "4105")]] } }),
    pages: {
      P1: { handOver: { says: [alarm, /4,?105|4\.1\d* kg/] } },
    },
  },
  {
    name: "a last reading 20 % below the day before is not hidden",
    files: dullStudy({ swap: { weighings: [[last, last.replace("4709", "3730")]] } }),
    pages: {
      P1: {
        handOver: {
          says: [alarm, /weigh again/i, /3,?730|3\.73\d* kg/],
        },
      },
    },
  },
  {
    name: "a decision whose minute is wrong is printed with the row that was perhaps meant",
    files: dullStudy({
      swap: { weighings: [[earlier, tenfold]] },
      put: {
        decisions: `${decisionsHead}\nP1,2025-05-07 06:31,45640,correct,,,4564,,R. Amble,2025-05-08,a zero too many\n`,
      },
    }),
    check: [/06:31/, /06:30/],
  },
  {
    name: "a decision that was applied is printed",
    files: dullStudy({
      swap: { weighings: [[earlier, tenfold]] },
      put: {
        decisions: `${decisionsHead}\nP1,2025-05-07 06:30,45640,correct,,,4564,,R. Amble,2025-05-08,a zero too many\n`,
      },
    }),
    check: [/applied|1 decision/i],
  },
];
