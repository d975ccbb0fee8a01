import { makeWorkbook, serial, type Value } from "../make-workbook.js";
import { dullStudy, weighingsHead } from "./dull-study.js";
import type { RecordSet } from "./record-set.js";
import {
  cut,
  days,
  head,
  massesByDay,
  plain,
  read,
  sheetRows,
  sheets,
  weighings,
} from "./weighing-layouts.js";

const few = (rows: readonly string[]) => ["animal_id,at,mass_g,tare_g", ...rows, ""].join("\n");
const utf16be = (text: string) => new Uint8Array(Buffer.from(`\ufeff${text}`, "utf16le").swap16());

/** Layouts of the same classes in other shapes, written after the first ones were read. */
export const siblingLayouts: readonly RecordSet[] = [
  weighings("an empty first line", `\n${plain}`),
  weighings("one title and a line of dashes", `Weights\n-------\n${plain}`),
  weighings("a first line that names the delimiter", `sep=;\n${plain.replaceAll(",", ";")}`),
  weighings("a delimiter at the end of each line", plain.replace(/\n/g, ",\n")),
  weighings("blanks around every cell", plain.replaceAll(",", " , ")),
  weighings(
    "headings in capitals with units",
    plain.replace(weighingsHead, "ANIMAL ID,AT,MASS (G),TARE (G),SCALE ID,METHOD,COAT,MEAL,NOTES"),
  ),
  {
    ...read("UTF-16 with the other byte first", { put: { weighings: null } }),
    files: dullStudy({ put: { weighings: null }, files: { "weighings.csv": utf16be(plain) } }),
  },
  weighings(
    "month before day, which study.json does not say",
    few(cut.map((c) => `${c[0]},${c[1]!.replace(/^(\d+)-(\d+)-(\d+)/, "$2/$3/$1")},${c[2]},0`)),
    { rows: {}, counts: {}, asked: [{ table: "weighings", row: "P1,05/02/2025" }] },
  ),
  read("one file in grams and one in kilograms", {
    put: { weighings: null },
    files: {
      "weighings-1.csv": few(cut.slice(0, 8).map((c) => `${c[0]},${c[1]},${c[2]},0`)),
      "weighings-2.csv": few(
        cut.slice(8).map((c) => `${c[0]},${c[1]},${Number(c[2]) / 1000},0`),
      ).replace("mass_g", "mass_kg"),
    },
  }),
  weighings(
    "call names in capitals",
    plain.replaceAll(/^P1/gm, "BRAMBLE").replaceAll(/^P2/gm, "THISTLE"),
  ),
  weighings(
    "do. for the id as above",
    [
      weighingsHead,
      ...["P1", "P2"].flatMap((id) =>
        cut
          .filter((c) => c[0] === id)
          .map((c, i) => [i === 0 ? id : "do.", ...c.slice(1)].join(",")),
      ),
    ].join("\n"),
  ),
  weighings(
    "the date written once for each day",
    ["animal_id,Date,Time,mass_g,tare_g"]
      .concat(
        cut.map((c, i) => {
          const [date, time] = c[1]!.split(" ") as [string, string];
          return `${c[0]},${i % 2 === 0 ? date : ""},${time},${c[2]},0`;
        }),
      )
      .join("\n"),
  ),
  sheets(
    "animals across and days down",
    makeWorkbook({
      weighings: {
        rows: [
          ["date", "P1", "P2"],
          ...days.map((day): Value[] => [
            { v: serial(`${day} 00:00`), z: "yyyy-mm-dd" },
            ...cut.filter((c) => c[1]!.startsWith(day)).map((c): Value => Number(c[2])),
          ]),
        ],
      },
    }),
    massesByDay,
  ),
  sheets(
    "an open document sheet",
    makeWorkbook({ weighings: { rows: [head, ...sheetRows] } }, { format: "ods" }),
    {},
    "weighings.ods",
  ),
  sheets(
    "numbers kept as texts in a workbook",
    makeWorkbook({
      weighings: { rows: [head, ...cut.map((c): Value[] => [c[0]!, c[1]!, c[2]!, c[3]!])] },
    }),
  ),
  sheets(
    "title rows and a blank row above the header of a sheet",
    makeWorkbook({ weighings: { rows: [["Scale book"], [null], head, ...sheetRows] } }),
  ),
  sheets(
    "a second table with a heading of its own below the first",
    makeWorkbook({
      weighings: {
        rows: [
          head,
          ...sheetRows.slice(0, 10),
          [null],
          ["second week"],
          head,
          ...sheetRows.slice(10),
        ],
      },
    }),
  ),
  {
    ...read("offered over eaten without saying which", {
      swap: { feeds: [["P1,2025-05-10 16:00,milk,140,0,", "P1,2025-05-10 16:00,milk,125/140,,"]] },
    }),
    rows: {},
    counts: {},
    asked: [{ table: "feeds", row: "125/140" }],
  },
  read(
    "millilitres in the header of feeds that are all milk",
    {
      put: {
        feeds: `animal_id,at,diet_id,offered_ml,refused_ml,route\n${cut
          .map((c) => `${c[0]},${c[1]},milk,100,0,bottle`)
          .join("\n")}\n`,
      },
    },
    {
      // 100 mL x 1.03 g/mL = 103 g
      rows: {
        feeds: ["animal_id | at | offered_g | refused_g", "P1 | 2025-05-01 06:30 | 103 | 0"],
      },
      counts: { feeds: 20 },
    },
  ),
];
