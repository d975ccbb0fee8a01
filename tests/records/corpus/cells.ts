import { dullStudy } from "./dull-study.js";
import { alarm, type RecordSet } from "./record-set.js";

const lastWeighing = "P1,2025-05-10 06:30,4709,0,b1,platform,dry,before,";
const lastFeed = "P1,2025-05-10 16:00,milk,140,0,bottle,";

/** The last weighing of P1 written in another way. */
function weighing(name: string, row: string, more: Omit<RecordSet, "name" | "files">): RecordSet {
  return { name, files: dullStudy({ swap: { weighings: [[lastWeighing, row]] } }), ...more };
}

/** The feed of P1 at 16:00 on 10 May written in another way. */
function feed(
  name: string,
  row: string,
  more: Omit<RecordSet, "name" | "files">,
  settings: Readonly<Record<string, unknown>> = {},
): RecordSet {
  return { name, files: dullStudy({ settings, swap: { feeds: [[lastFeed, row]] } }), ...more };
}

const mass = (grams: string) => ({
  rows: { weighings: ["animal_id | at | mass_g", `P1 | 2025-05-10 06:30 | ${grams}`] },
  counts: { weighings: 20 },
});
const fed = (offered: string, refused: string) => ({
  rows: {
    feeds: [
      "animal_id | at | offered_g | refused_g",
      `P1 | 2025-05-10 16:00 | ${offered} | ${refused}`,
    ],
  },
  counts: { feeds: 158 },
});
const blankMeansNone = { blank_refusal_is_none: true };
const range = { pages: { P1: { handOver: { says: [/between/i] } } } } as const;

export const cells: readonly RecordSet[] = [
  {
    ...weighing(
      "an error cell as a tare is not zero",
      lastWeighing.replace(",0,b1", ",#REF!,b1"),
      {},
    ),
    rows: {
      weighings: ["animal_id | at | mass_g | tare_g", "P1 | 2025-05-10 06:30 | 4709 | -"],
    },
    counts: { weighings: 20 },
    asked: [{ table: "weighings", row: "#REF!" }],
  },
  {
    ...weighing(
      "an error cell as a mass is set aside and shown",
      lastWeighing.replace("4709", "#VALUE!"),
      {},
    ),
    counts: { weighings: 19 },
    asked: [{ table: "weighings", row: "#VALUE!" }],
    pages: { P1: { handOver: { says: [/#VALUE!/] }, sheet: { says: [/#VALUE!/] } } },
  },
  weighing("a mass with a question mark is asked about", lastWeighing.replace("4709", "4709?"), {
    asked: [{ table: "weighings", row: "4709?" }],
  }),
  weighing("a mass in kilograms in its cell", lastWeighing.replace("4709", "4.709 kg"), {
    ...mass("4709"),
    quiet: true,
  }),
  // 10 lb 6.1 oz = 10 x 453.59237 + 6.1 x 28.349523125 = 4708.856 g
  weighing("a mass in pounds and ounces", lastWeighing.replace("4709", "10 lb 6.1 oz"), {
    ...mass("4708.856"),
    quiet: true,
  }),
  weighing("a blank between thousands", lastWeighing.replace("4709", "4 709"), {
    ...mass("4709"),
    quiet: true,
  }),
  weighing("a comma that may be a decimal mark", lastWeighing.replace("4709", '"4,709"'), {
    asked: [{ table: "weighings", row: "4,709" }],
  }),
  weighing("the letter O for a zero", lastWeighing.replace("4709", "47O9"), {
    asked: [{ table: "weighings", row: "47O9" }],
  }),
  weighing(
    "midnight written as 24:00",
    lastWeighing.replace("2025-05-10 06:30", "2025-05-09 24:00"),
    {
      rows: { weighings: ["animal_id | at | mass_g", "P1 | 2025-05-10 00:00 | 4709"] },
      counts: { weighings: 20 },
    },
  ),
  weighing(
    "a method in a word of their own",
    lastWeighing.replace("platform", "on the kitchen scale"),
    {
      ...mass("4709"),
      asked: [{ table: "weighings", row: "kitchen scale" }],
    },
  ),
  weighing(
    "capitals in words",
    lastWeighing.replace("platform,dry,before", "Platform,DRY,Before"),
    {
      ...mass("4709"),
      quiet: true,
    },
  ),

  feed("refused: a question mark is unknown", lastFeed.replace("140,0", "140,?"), {
    ...fed("140", "-"),
    ...range,
  }),
  feed(
    "refused: unknown, where blank means none",
    lastFeed.replace("140,0", "140,unknown"),
    { counts: { feeds: 158 }, ...range },
    blankMeansNone,
  ),
  feed(
    "refused: NA, where blank means none",
    lastFeed.replace("140,0", "140,NA"),
    { counts: { feeds: 158 }, ...range },
    blankMeansNone,
  ),
  feed(
    "refused: not weighed, where blank means none",
    lastFeed.replace("140,0", "140,not weighed"),
    { counts: { feeds: 158 }, ...range },
    blankMeansNone,
  ),
  feed(
    "refused: an error cell, where blank means none",
    lastFeed.replace("140,0", "140,#N/A"),
    { counts: { feeds: 158 }, asked: [{ table: "feeds", row: "#N/A" }], ...range },
    blankMeansNone,
  ),
  feed("refused: none is zero", lastFeed.replace("140,0", "140,none"), {
    ...fed("140", "0"),
    quiet: true,
  }),
  feed("refused: nil is zero", lastFeed.replace("140,0", "140,nil"), {
    ...fed("140", "0"),
    quiet: true,
  }),
  feed("refused: blank is a range", lastFeed.replace("140,0", "140,"), {
    ...fed("140", "-"),
    ...range,
  }),
  feed("refused in words costs that cell only", lastFeed.replace("140,0", "140,about a third"), {
    ...fed("140", "-"),
    asked: [{ table: "feeds", row: "about a third" }],
    pages: { P1: { handOver: { says: [/between/i, /about a third/] } } },
  }),
  feed(
    "an amount in words is set aside and shown on both pages",
    lastFeed.replace("140,0", "a little,0"),
    {
      counts: { feeds: 157 },
      asked: [{ table: "feeds", row: "a little" }],
      pages: { P1: { handOver: { says: [/a little/] }, sheet: { says: [/a little/] } } },
    },
  ),
  feed("a route in a word of their own", lastFeed.replace("bottle", "sippy cup"), {
    ...fed("140", "0"),
    asked: [{ table: "feeds", row: "sippy cup" }],
  }),
  feed("a time with seconds and a T", lastFeed.replace("2025-05-10 16:00", "2025-05-10T16:00:00"), {
    ...fed("140", "0"),
    quiet: true,
  }),
  feed("a feed with no time at all", lastFeed.replace("2025-05-10 16:00", ""), {
    counts: { feeds: 157 },
    asked: [{ table: "feeds", row: "P1,,milk" }],
  }),
  {
    name: "a decimal comma where the study says so",
    files: dullStudy({
      settings: { decimal: "comma" },
      swap: { weighings: [[lastWeighing, lastWeighing.replace("4709", '"4709,5"')]] },
      put: {
        diets: `diet_id,name,kind,energy_kcal_per_g,density_g_per_ml\nmilk,Milk,formula,"1,06","1,03"\n`,
      },
    }),
    ...mass("4709.5"),
    quiet: true,
  },
  {
    name: "whatever is written calmly raises nothing",
    files: dullStudy(),
    quiet: true,
    counts: { animals: 2, weighings: 20, feeds: 158, observations: 60, plans: 2, diets: 3 },
    pages: {
      P1: { handOver: { never: [alarm] }, sheet: { never: [alarm] }, ordered: ["8 x 140 g milk"] },
      P2: { handOver: { never: [alarm] }, sheet: { never: [alarm] }, ordered: ["8 x 150 g milk"] },
    },
  },
];
