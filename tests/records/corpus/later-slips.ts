import { dullStudy, weighingLines, weighingsHead } from "./dull-study.js";
import { alarm, type RecordSet } from "./record-set.js";

const lastFeed = "P1,2025-05-10 16:00,milk,140,0,bottle,";
const p2Feed = "P2,2025-05-10 16:10,milk,150,0,bottle,";
const last = "P1,2025-05-10 06:30,4709,0,b1,platform,dry,before,";
const beforeLast = "P1,2025-05-09 06:30,4657,0,b1,platform,dry,before,";

const doubted = (name: string, cells: string): RecordSet => ({
  name,
  files: dullStudy({ swap: { feeds: [[lastFeed, lastFeed.replace("140,0", cells)]] } }),
  counts: { feeds: 158 },
  asked: [{ table: "feeds", row: lastFeed.replace("140,0", cells) }],
  pages: { P1: { handOver: { says: [/between/i] } } },
});
const lastReading = (name: string, grams: string, says: readonly RegExp[]): RecordSet => ({
  name,
  files: dullStudy({ swap: { weighings: [[last, last.replace("4709", grams)]] } }),
  asked: [{ table: "weighings", row: `06:30,${grams}` }],
  pages: { P1: { handOver: { says } } },
});
const decisionsHead =
  "animal_id,at,mass_g,offered_g,kind,value,decision,new_animal_id,new_at,new_mass_g,new_offered_g,new_value,decided_by,decided_on,why";
const decision = (name: string, cells: string, more: Partial<RecordSet>, grams = "1400,0") => ({
  name,
  files: dullStudy({
    swap: { feeds: [[lastFeed, lastFeed.replace("140,0", grams)]] },
    put: { decisions: `${decisionsHead}\n${cells}\n` },
  }),
  ...more,
});
/** P2 made 6 % heavier than P1 on every day, with the same calm scale. */
const near = weighingLines.map((line) => {
  const cells = line.split(",");
  if (cells[0] !== "P2") return line;
  const own = weighingLines.find((l) => l.startsWith(`P1,${cells[1]!.slice(0, 10)}`))!.split(",");
  return [cells[0], cells[1], String(Math.round(Number(own[2]) * 1.06)), ...cells.slice(3)].join(
    ",",
  );
});
const dayOf = (id: string) => near.find((l) => l.startsWith(`${id},2025-05-07`))!.split(",");
const exchanged = near.map((line) => {
  const cells = line.split(",");
  if (!cells[1]!.startsWith("2025-05-07")) return line;
  const other = dayOf(cells[0] === "P1" ? "P2" : "P1");
  return [cells[0], cells[1], other[2], ...cells.slice(3)].join(",");
});

/** A third round of slips: exchanged amounts, wrong animal, decisions, losses. */
export const laterSlips: readonly RecordSet[] = [
  doubted("nothing offered and all of it refused: the two exchanged", "0,140"),
  doubted("20 g offered and 140 g refused", "20,140"),
  doubted("a tenfold refusal of a usual feed", "140,1400"),
  doubted("0.31 among feeds of 140 g: pounds", "0.31,0"),
  {
    name: "a feed of the other animal, written under this one",
    files: dullStudy({ swap: { feeds: [[p2Feed, p2Feed.replace("P2,", "P1,")]] } }),
    counts: { feeds: 158 },
    asked: [{ table: "feeds", row: "P1,2025-05-10 16:10" }],
  },
  {
    name: "a feed entered twice in one minute",
    files: dullStudy({ swap: { feeds: [[lastFeed, `${lastFeed}\n${lastFeed}`]] } }),
    counts: { feeds: 158 },
    asked: [{ table: "feeds", row: "P1,2025-05-10 16:00", equal: true }],
  },
  {
    name: "two animals 6 % apart exchanged on one day",
    files: dullStudy({ put: { weighings: [weighingsHead, ...exchanged, ""].join("\n") } }),
    asked: [
      { table: "weighings", row: "P1,2025-05-07" },
      { table: "weighings", row: "P2,2025-05-07" },
    ],
  },
  {
    name: "two animals 6 % apart, not exchanged",
    files: dullStudy({ put: { weighings: [weighingsHead, ...near, ""].join("\n") } }),
    quiet: true,
  },
  // A slip by its own suggestion and no loss: measure first, and the order stands.
  lastReading("a last reading ten times too heavy", "47090", [/weigh first/i, /47.?090/]),
  lastReading("a last reading in pounds", "10.38", [/10\.38/]),
  lastReading("a last reading 11 % below: danger", "4190", [alarm, /4,?190/]),
  {
    name: "a loss spread over the last two days",
    files: dullStudy({
      swap: {
        weighings: [
          [beforeLast, beforeLast.replace("4657", "4380")],
          [last, last.replace("4709", "4150")],
        ],
      },
    }),
    pages: { P1: { handOver: { says: [alarm, /4,?150/] } } },
  },
  {
    name: "a second reading an hour later, far below the first",
    files: dullStudy({
      add: { weighings: "P1,2025-05-10 07:30,3900,0,b1,platform,dry,before,\n" },
    }),
    asked: [{ table: "weighings", row: "07:30,3900" }],
    pages: { P1: { handOver: { says: [/3,?900/, /weigh again/i] } } },
  },
  decision(
    "a decision about a feed is applied and printed",
    "P1,2025-05-10 16:00,,1400,,,correct,,,,140,,R. Amble,2025-05-10,a zero too many",
    {
      check: [/16:00/, /applied/i],
      pages: { P1: { handOver: { never: [/between/i] } } },
    },
  ),
  decision(
    "a decision to keep a doubted feed asks no more",
    "P1,2025-05-10 16:00,,1400,,,keep,,,,,,R. Amble,2025-05-10,seen by two",
    { pages: { P1: { handOver: { never: [/between/i] } } } },
  ),
  decision(
    "a decision about a feed of another amount is printed with the nearest row",
    "P1,2025-05-10 16:00,,1040,,,correct,,,,140,,R. Amble,2025-05-10,a zero too many",
    { check: [/1,?040/, /1,?400/] },
  ),
  decision(
    "a decision about an animal that nobody knows is printed",
    "P7,2025-05-10 16:00,,1400,,,leave out,,,,,,R. Amble,2025-05-10,wrong page",
    { check: [/P7/] },
  ),
];
