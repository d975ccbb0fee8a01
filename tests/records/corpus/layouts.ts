import { makeWorkbook, serial, type Value } from "../make-workbook.js";
import {
  animalsCsv,
  dullStudy,
  feedLines,
  feedsHead,
  weighingLines,
  weighingsHead,
} from "./dull-study.js";
import type { RecordSet } from "./record-set.js";
import {
  cut,
  days,
  european,
  head,
  massesByDay,
  plain,
  read,
  sheetRows,
  sheets,
  weighings,
  when,
} from "./weighing-layouts.js";

const bytesOf = (text: string, encoding: BufferEncoding) =>
  new Uint8Array(Buffer.from(text, encoding));
const quiet = { quiet: true } as const;

const of = (id: string) => cut.filter((c) => c[0] === id);

/** Night feeds of an evening carry the evening's date, as on a page that is turned in the morning. */
const nightUnderEvening = feedLines.map((line) => {
  const cells = line.split(",");
  const [day, hour] = cells[1]!.split(" ") as [string, string];
  if (hour >= "06") return line;
  const before = new Date(Date.parse(`${day}T00:00Z`) - 86_400_000).toISOString().slice(0, 10);
  return [cells[0], `${before} ${hour}`, ...cells.slice(2)].join(",");
});
const byPage = [...nightUnderEvening].sort((a, b) => {
  const key = (line: string) => {
    const at = line.split(",")[1]!;
    return `${at.slice(0, 10)} ${at.slice(11) < "06" ? "B" : "A"}${at.slice(11)}`;
  };
  return key(a) < key(b) ? -1 : 1;
});
const feedTimes = {
  rows: {
    feeds: [
      "animal_id | at | offered_g",
      "P1 | 2025-05-10 01:00 | 140",
      "P1 | 2025-05-10 04:00 | 140",
    ],
  },
} as const;

export const layouts: readonly RecordSet[] = [
  weighings("title lines above the header", `Scale book 2025\nnursery two\n\n${plain}`, {}),
  weighings("comment lines above the header", `# kept by the night shift\n# grams\n${plain}`, {}),
  weighings("semicolons", plain.replaceAll(",", ";"), quiet),
  weighings("tabs in a file called csv", plain.replaceAll(",", "\t"), quiet),
  weighings(
    "a quoted file with carriage returns",
    plain.replace(/[^,\n]+/g, '"$&"').replaceAll("\n", "\r\n"),
    quiet,
  ),
  weighings(
    "semicolons and kilograms with a decimal comma",
    [
      "animal_id;at;mass_kg;tare_g",
      ...cut.map((c) => `${c[0]};${c[1]};${(Number(c[2]) / 1000).toFixed(3).replace(".", ",")};0`),
    ].join("\n"),
    {},
  ),
  {
    ...read("UTF-16 with its mark", { put: { weighings: null } }),
    files: dullStudy({
      put: { weighings: null },
      files: { "weighings.csv": bytesOf(`\ufeff${plain}`, "utf16le") },
    }),
    ...quiet,
  },
  {
    ...read("Latin letters of one byte", {}),
    files: dullStudy({
      put: { animals: null },
      files: { "animals.csv": bytesOf(animalsCsv.replace("Bramble", "Möwe"), "latin1") },
    }),
    rows: { animals: ["animal_id | name", "P1 | Möwe", "P2 | Thistle"] },
  },
  weighings(
    "headings in other words",
    plain.replace(
      weighingsHead,
      "Tier,Datum,Gewicht (g),Tara (g),Waage,method,coat,meal,Bemerkung",
    ),
  ),
  weighings(
    "the date and the time in two columns",
    [
      "animal_id,Date,Time,mass_g,tare_g",
      ...cut.map((c) => `${c[0]},${c[1]!.replace(" ", ",")},${c[2]},0`),
    ].join("\n"),
  ),
  weighings(
    "headings repeated inside the table",
    [
      weighingsHead,
      ...weighingLines.slice(0, 10),
      weighingsHead,
      ...weighingLines.slice(10),
      "",
    ].join("\n"),
  ),
  weighings("ids in small letters", plain.replaceAll(/^P/gm, "p")),
  weighings(
    "call names where ids belong",
    plain.replaceAll(/^P1/gm, "Bramble").replaceAll(/^P2/gm, "Thistle"),
  ),
  weighings(
    "a blank id means as above",
    [
      weighingsHead,
      ...["P1", "P2"].flatMap((id) =>
        of(id).map((c, i) => [i === 0 ? id : "", ...c.slice(1)].join(",")),
      ),
    ].join("\n"),
  ),
  weighings(
    "ditto marks for the id",
    [
      weighingsHead,
      ...["P1", "P2"].flatMap((id) =>
        of(id).map((c, i) => [i === 0 ? id : '""""', ...c.slice(1)].join(",")),
      ),
    ].join("\n"),
  ),
  weighings(
    "spreadsheet day numbers in the text",
    [
      "animal_id,at,mass_g,tare_g",
      ...cut.map((c) => `${c[0]},${serial(c[1]!).toFixed(6)},${c[2]},0`),
    ].join("\n"),
  ),
  weighings("times such as 0630", plain.replace(/ (\d\d):(\d\d)/g, " $1$2"), {}),
  weighings("a clock of twelve hours with am", plain.replace(/ 06:(\d\d)/g, " 6:$1 am"), quiet),
  weighings("months by name", plain.replace(/2025-05-(\d\d)/g, "$1 May 2025"), quiet),
  read(
    "days before months, as study.json says",
    {
      settings: { date_style: "day-month-year" },
      put: { weighings: cutText((at) => european(at)) },
    },
    quiet,
  ),
  {
    name: "a clock of twelve hours without am and pm is asked about",
    files: dullStudy({
      put: {
        feeds: [
          feedsHead,
          ...feedLines.map((line) =>
            line.replace(/ (\d\d):/, (_, h: string) => ` ${Number(h) % 12 || 12}:`),
          ),
        ].join("\n"),
      },
    }),
    asked: [{ table: "feeds", row: "P1,2025-05-05 1:00" }],
  },
  read(
    "night feeds under the evening's date",
    { put: { feeds: [feedsHead, ...byPage, ""].join("\n") } },
    { ...feedTimes, counts: { feeds: 158, weighings: 20 } },
  ),
  read(
    "offered and left over in one cell",
    {
      swap: {
        feeds: [
          ["P1,2025-05-10 16:00,milk,140,0,", "P1,2025-05-10 16:00,milk,125/140 (15 left),,"],
        ],
      },
    },
    {
      rows: {
        feeds: ["animal_id | at | offered_g | refused_g", "P1 | 2025-05-10 16:00 | 140 | 15"],
      },
      counts: { feeds: 158 },
    },
  ),
  read(
    "millilitres where the density is known",
    {
      swap: { feeds: [["P1,2025-05-10 16:00,milk,140,0,", "P1,2025-05-10 16:00,milk,136 mL,0,"]] },
    },
    // 136 mL x 1.03 g/mL = 140.08 g
    {
      rows: {
        feeds: ["animal_id | at | offered_g | refused_g", "P1 | 2025-05-10 16:00 | 140.08 | 0"],
      },
      counts: { feeds: 158 },
    },
  ),
  {
    name: "millilitres of a diet without a density are asked about",
    files: dullStudy({
      swap: { feeds: [["P1,2025-05-10 16:00,milk,140,0,", "P1,2025-05-10 16:00,rich,136 mL,0,"]] },
    }),
    asked: [{ table: "feeds", row: "136 mL" }],
    pages: { P1: { handOver: { says: [/136 mL/] } } },
  },
  {
    ...read("files by month", { put: { weighings: null } }),
    files: dullStudy({
      put: { weighings: null },
      files: {
        "weighings-2025-04.csv": [weighingsHead, ...weighingLines.slice(0, 8), ""].join("\n"),
        "weighings-2025-05.csv": [weighingsHead, ...weighingLines.slice(8), ""].join("\n"),
      },
    }),
    ...quiet,
  },
  {
    ...read("a file of another name", { put: { weighings: null } }),
    files: dullStudy({ put: { weighings: null }, files: { "scale book.csv": plain } }),
  },
  sheets(
    "a workbook in place of the text",
    makeWorkbook({ weighings: { rows: [head, ...sheetRows] } }),
    quiet,
  ),
  sheets(
    "a workbook that counts its days from 1904",
    makeWorkbook(
      {
        weighings: {
          rows: [
            head,
            ...cut.map((c): Value[] => [
              c[0]!,
              { v: serial(c[1]!) - 1462, z: "yyyy-mm-dd hh:mm" },
              Number(c[2]),
              0,
            ]),
          ],
        },
      },
      { date1904: true },
    ),
    quiet,
  ),
  sheets(
    "a sheet for each animal",
    makeWorkbook(
      Object.fromEntries(
        ["P1", "P2"].map((id) => [
          id,
          {
            rows: [
              ["at", "mass_g", "tare_g"],
              ...of(id).map((c): Value[] => [when(c[1]!), Number(c[2]), 0]),
            ],
          },
        ]),
      ),
    ),
  ),
  sheets(
    "days across and animals down",
    makeWorkbook({
      weighings: {
        rows: [
          [
            "animal_id",
            ...days.map((day): Value => ({ v: serial(`${day} 00:00`), z: "yyyy-mm-dd" })),
          ],
          ...["P1", "P2"].map((id): Value[] => [id, ...of(id).map((c): Value => Number(c[2]))]),
        ],
      },
    }),
    massesByDay,
  ),
  sheets(
    "two blocks side by side",
    makeWorkbook({
      weighings: {
        rows: [
          [...head, null, ...head],
          ...of("P1").map((c, i): Value[] => [
            "P1",
            when(c[1]!),
            Number(c[2]),
            0,
            null,
            "P2",
            when(of("P2")[i]![1]!),
            Number(of("P2")[i]![2]),
            0,
          ]),
        ],
      },
    }),
  ),
  sheets(
    "an id merged over its rows",
    makeWorkbook({
      weighings: {
        rows: [
          head,
          ...["P1", "P2"].flatMap((id) =>
            of(id).map((c, i): Value[] => [i === 0 ? id : null, when(c[1]!), Number(c[2]), 0]),
          ),
        ],
        merged: ["A2:A11", "A12:A21"],
      },
    }),
    quiet,
  ),
  {
    ...sheets(
      "a hidden sheet of weighings beside the open one",
      makeWorkbook({
        weighings: { rows: [head, ...sheetRows] },
        "weighings old": {
          rows: [head, ["P1", when("2025-05-10 06:00"), 3000, 0]],
          hidden: true,
        },
      }),
    ),
    rows: {},
    counts: {},
    check: [/hidden/i],
  },
];

function cutText(dateOf: (at: string) => string): string {
  return [
    "animal_id,at,mass_g,tare_g",
    ...cut.map((c) => `${c[0]},${dateOf(c[1]!)},${c[2]},0`),
    "",
  ].join("\n");
}
