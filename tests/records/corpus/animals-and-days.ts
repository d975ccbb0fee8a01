import { animalsCsv, dullStudy, weighingLines, weighingsHead } from "./dull-study.js";
import type { RecordSet } from "./record-set.js";

const p1 = animalsCsv.split("\n")[1]!;

/** The row of P1 in the animals table written in another way. */
const animal = (name: string, row: string, more: Omit<RecordSet, "name" | "files">): RecordSet => ({
  name,
  files: dullStudy({ swap: { animals: [[p1, row]] } }),
  ...more,
});

/** P1 is there, with all that was weighed and fed. */
const whole = { counts: { weighings: 20, feeds: 158, observations: 60 } } as const;
const there = {
  pages: { P1: { handOver: { still: [/Bramble/, /470\d g|4\.7\d* kg/] } } },
} as const;

export const animalsAndDays: readonly RecordSet[] = [
  animal("an outcome date in words", p1.replace(/in care,$/, "in care,soon"), {
    counts: { ...whole.counts, animals: 2 },
    asked: [{ table: "animals", row: "soon" }],
    ...there,
  }),
  animal("a birth date in words", p1.replaceAll("2025-03-20", "early spring"), {
    counts: { ...whole.counts, animals: 2 },
    asked: [{ table: "animals", row: "early spring" }],
    ...there,
  }),
  animal("a birth date with ca.", p1.replace("2025-03-20,2025-03-20", "ca. 20 March 2025,"), {
    counts: { ...whole.counts, animals: 2 },
    ...there,
  }),
  animal("a birth month", p1.replace("2025-03-20,2025-03-20", "2025-03,"), {
    rows: {
      animals: [
        "animal_id | birth_date_earliest | birth_date_latest",
        "P1 | 2025-03-01 | 2025-03-24",
      ],
    },
    counts: { ...whole.counts, animals: 2 },
    ...there,
  }),
  animal("an arrival in words", p1.replace("2025-03-24 14:00", "end of March"), {
    counts: { ...whole.counts, animals: 2 },
    asked: [{ table: "animals", row: "end of March" }],
    ...there,
  }),
  animal("a sex in a word of their own", p1.replace("female", "girl"), {
    counts: { ...whole.counts, animals: 2 },
    asked: [{ table: "animals", row: "girl" }],
    ...there,
  }),
  animal(
    "a birth range written backwards",
    p1.replace("2025-03-20,2025-03-20", "2025-03-20,2025-03-10"),
    {
      counts: whole.counts,
      asked: [{ table: "animals", row: "2025-03-10" }],
      ...there,
    },
  ),
  animal("a birth year slipped into the future", p1.replaceAll("2025-03-20", "2026-03-20"), {
    asked: [{ table: "animals", row: "2026-03-20" }],
    pages: { P1: { handOver: { still: [/P1/] } } },
  }),
  {
    name: "fed and weighed, and not in the animals table",
    files: dullStudy({
      add: {
        feeds: "P9,2025-05-10 18:00,milk,120,0,bottle,\n",
        weighings: "P9,2025-05-10 17:00,4100,0,b1,platform,dry,before,\n",
      },
    }),
    asked: [{ table: "feeds", row: "P9" }],
    pages: { P9: { handOver: { still: [/P9/, /animals/i] }, sheet: { still: [/P9/] } } },
  },
  {
    name: "a row for two animals",
    files: dullStudy({
      add: { weighings: "P1/P2,2025-05-10 18:00,9600,0,b1,platform,dry,before,\n" },
    }),
    counts: { weighings: 20 },
    asked: [{ table: "weighings", row: "P1/P2" }],
    pages: {
      P1: { handOver: { says: [/P1\/P2/] } },
      P2: { handOver: { says: [/P1\/P2/] } },
    },
  },
  {
    name: "an animal that came back stands twice in the animals table",
    files: dullStudy({
      add: {
        animals:
          "P1,Bramble,sea otter,female,2025-03-20,2025-03-20,observed,2025-05-02 10:00,2025,in care,\n",
      },
    }),
    ...whole,
    asked: [{ table: "animals", row: "2025-05-02 10:00" }],
    ...there,
  },
  {
    name: "an id used again in a later season",
    files: dullStudy({
      put: {
        animals: animalsCsv.replace(
          p1,
          `P1,Sorrel,sea otter,female,2024-03-10,2024-03-10,observed,2024-03-24 14:00,2024,died,2024-06-01\n${p1}`,
        ),
      },
    }),
    ...whole,
    asked: [{ table: "animals", row: "P1,Bramble" }],
    pages: { P1: { handOver: { still: [/P1/] } } },
  },
  {
    name: "an id with a blank behind it",
    files: dullStudy({ swap: { weighings: [["P1,2025-05-10 06:30", "P1 ,2025-05-10 06:30"]] } }),
    ...whole,
    quiet: true,
  },
  {
    name: "a weighing of the year 2062",
    files: dullStudy({
      add: { weighings: "P1,2062-05-10 06:30,4709,0,b1,platform,dry,before,\n" },
    }),
    asked: [{ table: "weighings", row: "2062" }],
    pages: {
      P1: { handOver: { still: [/10 May 2025/] }, ordered: ["8 x 140 g milk"] },
      P2: { ordered: ["8 x 150 g milk"] },
    },
  },
  {
    name: "a feed of next month",
    files: dullStudy({ add: { feeds: "P1,2025-06-10 16:00,milk,140,0,bottle,\n" } }),
    asked: [{ table: "feeds", row: "2025-06-10" }],
    pages: { P1: { handOver: { still: [/10 May 2025/] }, ordered: ["8 x 140 g milk"] } },
  },
  {
    name: "a weighing whose day and month were exchanged",
    files: dullStudy({
      swap: { weighings: [["P1,2025-05-09 06:30", "P1,2025-09-05 06:30"]] },
    }),
    counts: { weighings: 20 },
    asked: [{ table: "weighings", row: "2025-09-05" }],
    pages: { P1: { handOver: { still: [/10 May 2025/] } } },
  },
  {
    name: "a day beyond the records is said on the first lines",
    files: dullStudy(),
    onDay: "2031-01-01",
    head: [/records? (end|reach)|after the last record|beyond/i],
  },
  {
    name: "a line of totals below the weighings",
    files: dullStudy({ add: { weighings: "Total,,94000,,,,,,\n" } }),
    counts: { weighings: 20 },
    asked: [{ table: "weighings", row: "Total" }],
  },
  {
    name: "blank lines in the table are no rows",
    files: dullStudy({
      put: {
        weighings: [weighingsHead, ...weighingLines.flatMap((l) => [l, ",,,,,,,,", ""])].join("\n"),
      },
    }),
    ...whole,
    quiet: true,
  },
  {
    name: "a weighing entered twice is counted once",
    files: dullStudy({ add: { weighings: `${weighingLines.at(-1)!}\n` } }),
    counts: { weighings: 20 },
    asked: [{ table: "weighings", row: "P2,2025-05-10", equal: true }],
  },
  {
    name: "rows in no order of time",
    files: dullStudy({
      put: { weighings: [weighingsHead, ...[...weighingLines].reverse(), ""].join("\n") },
    }),
    ...whole,
    quiet: true,
    ...there,
  },
];
