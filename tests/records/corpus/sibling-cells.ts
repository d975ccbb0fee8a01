import { animalsCsv, dullStudy, weighingLines } from "./dull-study.js";
import type { RecordSet } from "./record-set.js";

const lastWeighing = "P1,2025-05-10 06:30,4709,0,b1,platform,dry,before,";
const lastFeed = "P1,2025-05-10 16:00,milk,140,0,bottle,";
const p1 = animalsCsv.split("\n")[1]!;
const blankMeansNone = { blank_refusal_is_none: true };

type More = Omit<RecordSet, "name" | "files">;
const weighing = (name: string, row: string, more: More): RecordSet => ({
  name,
  files: dullStudy({ swap: { weighings: [[lastWeighing, row]] } }),
  ...more,
});
const feed = (name: string, cells: string, more: More, settings = {}): RecordSet => ({
  name,
  files: dullStudy({
    settings,
    swap: { feeds: [[lastFeed, lastFeed.replace("140,0", cells)]] },
  }),
  ...more,
});
const animal = (name: string, row: string, more: More): RecordSet => ({
  name,
  files: dullStudy({ swap: { animals: [[p1, row]] } }),
  ...more,
});
const unknown = {
  counts: { feeds: 158 },
  pages: { P1: { handOver: { says: [/between/i] } } },
} as const;
const kept = {
  counts: { animals: 2, weighings: 20, feeds: 158 },
  pages: { P1: { handOver: { still: [/Bramble/] } } },
} as const;

/** Cells of the same classes in other spellings, written after the first ones were read. */
export const siblingCells: readonly RecordSet[] = [
  feed("refused: TBC, where blank means none", "140,TBC", unknown, blankMeansNone),
  feed("refused: n.d., where blank means none", "140,n.d.", unknown, blankMeansNone),
  feed(
    "refused: #DIV/0!, where blank means none",
    "140,#DIV/0!",
    { ...unknown, asked: [{ table: "feeds", row: "#DIV/0!" }] },
    blankMeansNone,
  ),
  feed(
    "refused: Err:502, where blank means none",
    "140,Err:502",
    { ...unknown, asked: [{ table: "feeds", row: "Err:502" }] },
    blankMeansNone,
  ),
  feed("refused: half", "140,half", { ...unknown, asked: [{ table: "feeds", row: "140,half" }] }),
  feed("refused: 0g is zero", "140,0g", {
    rows: { feeds: ["animal_id | at | offered_g | refused_g", "P1 | 2025-05-10 16:00 | 140 | 0"] },
    quiet: true,
  }),
  feed("offered: about 140 is asked about", "~140,0", { asked: [{ table: "feeds", row: "~140" }] }),
  feed("offered: two numbers are asked about", "70+70,0", {
    asked: [{ table: "feeds", row: "70+70" }],
  }),
  feed("offered: left blank", ",0", {
    counts: { feeds: 157 },
    asked: [{ table: "feeds", row: "16:00,milk,,0" }],
    pages: {
      P1: {
        handOver: {
          says: [/blank/],
        },
      },
    },
  }),
  weighing("kilograms in a column of grams", lastWeighing.replace("4709", "4.709"), {
    asked: [{ table: "weighings", row: "4.709" }],
  }),
  weighing("an hour that does not exist", lastWeighing.replace("06:30", "25:30"), {
    asked: [{ table: "weighings", row: "25:30" }],
    pages: { P1: { handOver: { says: [/25:30/] } } },
  }),
  weighing("a day that does not exist", lastWeighing.replace("2025-05-10", "2025-02-30"), {
    asked: [{ table: "weighings", row: "2025-02-30" }],
  }),
  weighing("a year of a hundred years ago", lastWeighing.replace("2025-05-10", "1925-05-10"), {
    asked: [{ table: "weighings", row: "1925" }],
    pages: { P1: { handOver: { still: [/10 May 2025/] } } },
  }),
  weighing("a tare with a dash is not written", lastWeighing.replace(",0,b1", ",-,b1"), {
    rows: { weighings: ["animal_id | at | tare_g", "P1 | 2025-05-10 06:30 | -"] },
    counts: { weighings: 20 },
  }),
  weighing("an id that is nearly another", lastWeighing.replace("P1,", "P11,"), {
    asked: [{ table: "weighings", row: "P11" }],
    pages: { P1: { handOver: { says: [/P11/] } } },
  }),
  animal(
    "a birth date with a question mark",
    p1.replace("2025-03-20,2025-03-20", "2025-03-20?,"),
    kept,
  ),
  animal(
    "a birth between two days",
    p1.replace("2025-03-20,2025-03-20", "18-22 March 2025,"),
    kept,
  ),
  animal("a birth month by its name", p1.replace("2025-03-20,2025-03-20", "March 2025,"), {
    ...kept,
    rows: {
      animals: [
        "animal_id | birth_date_earliest | birth_date_latest",
        "P1 | 2025-03-01 | 2025-03-24",
      ],
    },
  }),
  animal("a birth date unknown, in words", p1.replace("2025-03-20,2025-03-20", "unknown,unknown"), {
    ...kept,
    rows: { animals: ["animal_id | birth_date_earliest", "P1 | -"] },
  }),
  animal("an arrival with its time left out", p1.replace("2025-03-24 14:00", "2025-03-24"), kept),
  animal("an outcome in a word of their own", p1.replace(",in care,", ",doing well,"), {
    ...kept,
    asked: [{ table: "animals", row: "doing well" }],
  }),
  animal("a species in a word of their own", p1.replace("sea otter", "otter"), {
    counts: kept.counts,
    asked: [{ table: "animals", row: ",otter," }],
    pages: kept.pages,
  }),
  animal("an arrival after the last record", p1.replace("2025-03-24 14:00", "2025-06-24 14:00"), {
    counts: { weighings: 20 },
    asked: [{ table: "animals", row: "2025-06-24" }],
    pages: kept.pages,
  }),
  {
    name: "the whole animals row twice",
    files: dullStudy({ add: { animals: `${p1}\n` } }),
    counts: { weighings: 20, feeds: 158 },
    asked: [{ table: "animals", row: p1, equal: true }],
    pages: kept.pages,
  },
  {
    name: "an id with a letter in front in one table only",
    files: dullStudy({
      swap: { observations: [["P1,2025-05-10 08:00", "pup P1,2025-05-10 08:00"]] },
    }),
    counts: { weighings: 20 },
    asked: [{ table: "observations", row: "pup P1" }],
  },
  {
    name: "a row of totals for each day",
    files: dullStudy({ add: { weighings: "Sum 10 May,,9600,,,,,,\nMean,,4800,,,,,,\n" } }),
    counts: { weighings: weighingLines.length },
    asked: [
      { table: "weighings", row: "Sum 10 May" },
      { table: "weighings", row: "Mean" },
    ],
  },
];
