import { dullStudy } from "./dull-study.js";
import { alarm, type RecordSet } from "./record-set.js";

const lastFeed = "P1,2025-05-10 16:00,milk,140,0,bottle,";
const earlier = "P1,2025-05-07 06:30,4564,0,b1,platform,dry,before,";
const last = "P1,2025-05-10 06:30,4709,0,b1,platform,dry,before,";

const feed = (name: string, cells: string): RecordSet => {
  const row = lastFeed.replace("140,0", cells);
  return {
    name,
    files: dullStudy({ swap: { feeds: [[lastFeed, row]] } }),
    asked: [{ table: "feeds", row }],
  };
};
const lastReading = (name: string, grams: string, says: readonly RegExp[]): RecordSet => ({
  name,
  files: dullStudy({ swap: { weighings: [[last, last.replace("4709", grams)]] } }),
  pages: { P1: { handOver: { says } } },
});

/** Slips of the same classes, written after the first ones were read. */
export const siblingSlips: readonly RecordSet[] = [
  feed("410 g fed: two digits exchanged", "410,0"),
  feed("1140 g fed: a digit typed twice", "1140,0"),
  feed("140 kg fed: the unit slipped", "140 kg,0"),
  feed("more refused than offered", "140,1400"),
  {
    name: "a weighing with two digits exchanged",
    files: dullStudy({ swap: { weighings: [[earlier, earlier.replace("4564", "5464")]] } }),
    asked: [{ table: "weighings", row: "5464" }],
  },
  {
    name: "feeds that grow with the animal are not doubted",
    files: dullStudy({
      swap: { feeds: [[lastFeed, lastFeed.replace("140,0", "155,0")]] },
    }),
    quiet: true,
    pages: { P1: { handOver: { never: [alarm] } } },
  },
  {
    name: "a small feed that was refused in part is not doubted",
    files: dullStudy({
      swap: { feeds: [[lastFeed, lastFeed.replace("140,0", "140,90")]] },
    }),
    quiet: true,
  },
  lastReading("a last reading 15 % below: danger", "3960", [alarm, /3,?960|3\.96/]),
  lastReading("a last reading 30 % below: danger, and weighed again", "3250", [
    alarm,
    /weigh again/i,
    /3,?250|3\.25/,
  ]),
  lastReading("a last reading 6 % below: a second look", "4380", [/second look/i]),
];
