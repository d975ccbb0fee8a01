import { animalsCsv, dullStudy } from "./dull-study.js";
import type { RecordSet } from "./record-set.js";

const lastWeighing = "P1,2025-05-10 06:30,4709,0,b1,platform,dry,before,";
const lastFeed = "P1,2025-05-10 16:00,milk,140,0,bottle,";
const [, p1, p2] = animalsCsv.split("\n") as [string, string, string];

type More = Omit<RecordSet, "name" | "files">;
const weighing = (name: string, row: string, more: More): RecordSet => ({
  name,
  files: dullStudy({ swap: { weighings: [[lastWeighing, row]] } }),
  ...more,
});
const feed = (name: string, row: string, more: More, settings = {}): RecordSet => ({
  name,
  files: dullStudy({ settings, swap: { feeds: [[lastFeed, row]] } }),
  ...more,
});
const animals = (name: string, from: string, to: string, more: More): RecordSet => ({
  name,
  files: dullStudy({ swap: { animals: [[from, to]] } }),
  ...more,
});
const asked = (row: string): More => ({ asked: [{ table: "weighings", row }] });
const mass = (grams: string): More => ({
  rows: { weighings: ["animal_id | at | mass_g", `P1 | 2025-05-10 06:30 | ${grams}`] },
  counts: { weighings: 20 },
});
const fed = (offered: string, refused: string): More => ({
  rows: {
    feeds: [
      "animal_id | at | offered_g | refused_g",
      `P1 | 2025-05-10 16:00 | ${offered} | ${refused}`,
    ],
  },
  counts: { feeds: 158 },
});
const whole = { weighings: 20, feeds: 158, observations: 60 } as const;

/** A third round of cells, rows, animals and days. */
export const laterCells: readonly RecordSet[] = [
  feed("refused: about 20 is a range", lastFeed.replace("140,0", "140,~20"), {
    counts: { feeds: 158 },
    asked: [{ table: "feeds", row: "~20" }],
    pages: { P1: { handOver: { says: [/~20/] } } },
  }),
  // 15 mL x 1.03 g/mL = 15.45 g
  feed("refused in millilitres", lastFeed.replace("140,0", "140,15 mL"), fed("140", "15.45")),
  feed("refused: a share in per cent", lastFeed.replace("140,0", "140,10%"), {
    counts: { feeds: 158 },
    asked: [{ table: "feeds", row: "10%" }],
  }),
  feed("a diet in another case", lastFeed.replace("milk", "MILK"), {
    rows: { feeds: ["animal_id | at | diet_id", "P1 | 2025-05-10 16:00 | milk"] },
    counts: { feeds: 158 },
  }),
  feed("a diet that is in no table keeps its feed", lastFeed.replace("milk", "milk powder mix"), {
    counts: { feeds: 158 },
    asked: [{ table: "feeds", row: "milk powder mix" }],
  }),
  // 4.71 kg: two digits behind the comma are no thousands
  weighing("kilograms with a comma in the cell", lastWeighing.replace("4709", '"4,71 kg"'), {
    ...mass("4710"),
  }),
  weighing("a tare of n/a is not zero", lastWeighing.replace(",0,b1", ",n/a,b1"), {
    rows: { weighings: ["animal_id | at | tare_g", "P1 | 2025-05-10 06:30 | -"] },
    counts: { weighings: 20 },
  }),
  weighing("a tare above the reading", lastWeighing.replace(",0,b1", ",9000,b1"), asked(",9000,")),
  weighing("a mass of zero", lastWeighing.replace("4709", "0"), asked("06:30,0,0,")),
  weighing("a mass below zero", lastWeighing.replace("4709", "-4709"), asked("-4709")),
  weighing("a formula as text", lastWeighing.replace("4709", "=4300+409"), asked("=4300+409")),
  weighing("a word behind the mass", lastWeighing.replace("4709", "4709 (wet)"), asked("(wet)")),
  weighing("a month by its name", lastWeighing.replace("2025-05-10", "10-May-2025"), mass("4709")),
  weighing(
    "a time from and to",
    lastWeighing.replace("06:30", "06:30-06:40"),
    asked("06:30-06:40"),
  ),
  weighing("a name and an id in one cell", lastWeighing.replace("P1,", "P1 Bramble,"), {
    asked: [{ table: "weighings", row: "P1 Bramble" }],
    pages: { P1: { handOver: { says: [/P1 Bramble/] } } },
  }),
  {
    name: "a time that does not exist on the day of the change of clocks",
    files: dullStudy({
      add: { weighings: "P1,2025-03-30 02:30,3100,0,b1,platform,dry,before,\n" },
    }),
    asked: [{ table: "weighings", row: "2025-03-30 02:30" }],
  },
  animals("an animal that died, on no date", p2, p2.replace("in care,", "died,"), {
    counts: { ...whole, animals: 2 },
    asked: [{ table: "animals", row: "P2,Thistle" }],
    pages: { P1: { handOver: { still: [/Bramble/] } } },
  }),
  animals("a species left blank", p1, p1.replace("sea otter", ""), {
    // The study has one species: the cell need not say it again.
    counts: whole,
    rows: { animals: ["animal_id | species", "P1 | sea otter", "P2 | sea otter"] },
    pages: { P1: { handOver: { still: [/Bramble/] }, sheet: { still: [/Bramble/] } } },
  }),
  {
    name: "an animal of which nothing was written yet",
    files: dullStudy({
      add: {
        animals:
          "P3,Kestrel,sea otter,female,2025-04-20,2025-04-20,observed,2025-05-10 12:00,2025,in care,\n",
      },
    }),
    counts: { ...whole, animals: 3 },
    pages: { P3: { handOver: { still: [/Kestrel/] }, sheet: { still: [/Kestrel/] } } },
  },
  {
    name: "a row of the animals table without an id",
    files: dullStudy({
      add: {
        animals:
          ",Kestrel,sea otter,female,2025-04-20,2025-04-20,observed,2025-05-10 12:00,2025,in care,\n",
      },
    }),
    counts: whole,
    asked: [{ table: "animals", row: ",Kestrel" }],
    somewhere: [/Kestrel/],
  },
  {
    name: "a diet whose row cannot be used is said where it is fed",
    files: dullStudy({
      put: {
        diets:
          "diet_id,name,kind,energy_kcal_per_g\nmilk,Milk,sort of formula,1.06\nmash,Clam mash,solid,0.8\n",
      },
    }),
    asked: [{ table: "diets", row: "sort of formula" }],
    pages: {
      P1: { handOver: { says: [/sort of formula/] }, sheet: { says: [/sort of formula/] } },
    },
  },
  {
    name: "an energy that cannot be read is said where the diet is fed",
    files: dullStudy({
      put: {
        diets:
          "diet_id,name,kind,energy_kcal_per_g\nmilk,Milk,formula,see label\nmash,Clam mash,solid,see jar\n",
      },
    }),
    asked: [{ table: "diets", row: "see label" }],
    pages: {
      P1: { handOver: { says: [/see label/], never: [/see jar/] }, sheet: { says: [/see label/] } },
    },
  },
  {
    name: "two animals of one name, called by it in the feeds",
    files: dullStudy({
      swap: {
        animals: [["P2,Thistle", "P2,Bramble"]],
        feeds: [[lastFeed, lastFeed.replace("P1,", "Bramble,")]],
      },
    }),
    accept: true,
    counts: { weighings: 20 },
    asked: [{ table: "feeds", row: "Bramble,2025-05-10 16:00" }],
  },
  {
    name: "an id whose zeros a spreadsheet took away",
    files: dullStudy({
      add: {
        animals:
          "007,Kestrel,sea otter,female,2025-03-20,2025-03-20,observed,2025-03-24 14:00,2025,in care,\n",
        weighings: "7,2025-05-10 06:50,4400,0,b1,platform,dry,before,\n",
      },
    }),
    accept: true,
    rows: { weighings: ["animal_id | at | mass_g", "007 | 2025-05-10 06:50 | 4400"] },
    pages: { "007": { handOver: { still: [/Kestrel/] } } },
  },
  {
    name: "a day before the first record is said on the first lines",
    files: dullStudy(),
    onDay: "2020-01-01",
    head: [/no weighing stands before/i],
  },
];
