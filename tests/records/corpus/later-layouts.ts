import { makeWorkbook, serial, type Value } from "../make-workbook.js";
import { type Change, feedLines, feedsHead, weighingLines, weighingsHead } from "./dull-study.js";
import type { RecordSet } from "./record-set.js";
import {
  cut,
  days,
  european,
  head,
  masses,
  massesByDay,
  plain,
  read,
  sheetRows,
  weighings,
} from "./weighing-layouts.js";

const instead = (name: string, files: Change["files"] & object, more: Partial<RecordSet> = {}) =>
  read(name, { put: { weighings: null }, files }, more);
const few = (head: string, rows: readonly string[]) => [head, ...rows, ""].join("\n");
const split = (c: readonly string[]) => c[1]!.split(" ") as [string, string];

/** A third round of layouts: folders, hidden sheets, JSON, units above, footnotes, halves of the day. */
export const laterLayouts: readonly RecordSet[] = [
  instead("a folder for each year", {
    "2024/weighings.csv": few(weighingsHead, weighingLines.slice(0, 8)),
    "2025/weighings.csv": few(weighingsHead, weighingLines.slice(8)),
  }),
  instead("a folder for the weighings, a file for each week", {
    "weighings/week 18.csv": few(weighingsHead, weighingLines.slice(0, 8)),
    "weighings/week 19.csv": few(weighingsHead, weighingLines.slice(8)),
  }),
  instead(
    "the only sheet of weighings is hidden",
    {
      "records.xlsx": makeWorkbook({
        weighings: { rows: [head, ...sheetRows], hidden: true },
        "read me": { rows: [["Two calm pups"]] },
      }),
    },
    { check: [/hidden/i] },
  ),
  instead("a JSON table", {
    "weighings.json": JSON.stringify(
      cut.map((c) => ({ animal_id: c[0], at: c[1], mass_g: Number(c[2]), tare_g: 0 })),
    ),
  }),
  instead("a JSON table in other words", {
    "weighings.json": JSON.stringify(
      cut.map((c) => ({ Pup: c[0], When: c[1], "Weight (g)": Number(c[2]), "Tare (g)": 0 })),
    ),
  }),
  instead("a JSON table with kilograms and call names", {
    "weighings.json": JSON.stringify(
      cut.map((c) => ({
        animal: c[0] === "P1" ? "Bramble" : "Thistle",
        at: c[1],
        mass_kg: Number(c[2]) / 1000,
        tare_kg: 0,
      })),
    ),
  }),
  weighings(
    "units in a line of their own below the headings",
    few("animal_id,at,mass,tare", [",,g,g", ...cut.map((c) => `${c[0]},${c[1]},${c[2]},0`)]),
  ),
  weighings(
    "footnotes below the table",
    `${plain}\n* all readings before the first feed\n* scale b1 of the kitchen\n`,
  ),
  weighings(
    "the weekday before the date",
    few(
      "animal_id,at,mass_g,tare_g",
      cut.map((c) => {
        const name = new Date(`${c[1]!.slice(0, 10)}T00:00Z`).toUTCString().slice(0, 3);
        return `${c[0]},${name} ${c[1]},${c[2]},0`;
      }),
    ),
  ),
  weighings(
    "am and pm in a column of their own",
    few(
      "animal_id,Date,Time,am/pm,mass_g,tare_g",
      cut.map((c) => `${c[0]},${split(c)[0]},${split(c)[1].replace(/^0/, "")},AM,${c[2]},0`),
    ),
  ),
  weighings(
    "clock times whose zero a spreadsheet took away",
    few(
      "animal_id,Date,Time,mass_g,tare_g",
      cut.map((c) => `${c[0]},${split(c)[0]},${Number(split(c)[1].replace(":", ""))},${c[2]},0`),
    ),
  ),
  weighings(
    "semicolons, days before months, kilograms with a comma",
    few(
      "Tier;Datum;Gewicht (kg);Tara (kg)",
      cut.map(
        (c) => `${c[0]};${european(c[1]!)};${(Number(c[2]) / 1000).toFixed(3).replace(".", ",")};0`,
      ),
    ),
  ),
  weighings(
    "headings in Spanish",
    few(
      "Animal;Fecha;Peso (g);Tara (g)",
      cut.map((c) => `${c[0]};${c[1]};${c[2]};0`),
    ),
  ),
  weighings(
    "commas in a note that is not in quotes",
    plain.replace(
      "P1,2025-05-05 06:30,4480,0,b1,platform,dry,before,",
      "P1,2025-05-05 06:30,4480,0,b1,platform,dry,before,calm, warm, slept",
    ),
    // A comma in a mass would move the cells just so: nobody can tell without asking.
    {
      rows: {},
      counts: { weighings: 19 },
      asked: [{ table: "weighings", row: "calm, warm, slept" }],
    },
  ),
  read(
    "weighings and feeds in one list",
    {
      put: { weighings: null, feeds: null },
      files: {
        "daily log.csv": few("animal_id,at,mass_g,tare_g,diet_id,offered_g,refused_g", [
          ...cut.map((c) => `${c[0]},${c[1]},${c[2]},0,,,`),
          ...feedLines.map((line) => {
            const f = line.split(",");
            return `${f[0]},${f[1]},,,${f[2]},${f[3]},${f[4]}`;
          }),
        ]),
      },
    },
    masses,
  ),
  read(
    "eaten over offered in every cell, as the heading says",
    {
      put: {
        feeds: few("animal_id,at,diet_id,eaten/offered,route", [
          ...feedLines.map((line) => {
            const f = line.split(",");
            return `${f[0]},${f[1]},${f[2]},${Number(f[3]) - 5}/${f[3]},bottle`;
          }),
        ]),
      },
    },
    {
      rows: {
        feeds: ["animal_id | at | offered_g | refused_g", "P1 | 2025-05-10 16:00 | 140 | 5"],
      },
      counts: { feeds: 158 },
    },
  ),
  instead(
    "days across with totals and means at the side",
    {
      "weighings.xlsx": makeWorkbook({
        weighings: {
          rows: [
            [
              "animal_id",
              ...days.map((day): Value => ({ v: serial(`${day} 00:00`), z: "yyyy-mm-dd" })),
              "Mean",
            ],
            ...["P1", "P2"].map((id): Value[] => {
              const own = cut.filter((c) => c[0] === id).map((c) => Number(c[2]));
              return [id, ...own, own.reduce((a, b) => a + b, 0) / own.length];
            }),
          ],
        },
      }),
    },
    massesByDay,
  ),
  instead("a date cell and a time cell of a sheet", {
    "weighings.xlsx": makeWorkbook({
      weighings: {
        rows: [
          ["animal_id", "Date", "Time", "mass_g", "tare_g"],
          ...cut.map((c): Value[] => [
            c[0]!,
            { v: serial(`${split(c)[0]} 00:00`), z: "yyyy-mm-dd" },
            { v: serial(c[1]!) - serial(`${split(c)[0]} 00:00`), z: "hh:mm" },
            Number(c[2]),
            0,
          ]),
        ],
      },
    }),
  }),
  instead("a sheet for each animal by its call name, among others", {
    "scale book.xlsx": makeWorkbook({
      "read me": { rows: [["Kept by the night shift"]] },
      Bramble: {
        rows: [
          ["Date", "Time", "Weight (g)", "Tare (g)"],
          ...cut
            .filter((c) => c[0] === "P1")
            .map((c): Value[] => [split(c)[0], split(c)[1], Number(c[2]), 0]),
        ],
      },
      Thistle: {
        rows: [
          ["Date", "Time", "Weight (g)", "Tare (g)"],
          ...cut
            .filter((c) => c[0] === "P2")
            .map((c): Value[] => [split(c)[0], split(c)[1], Number(c[2]), 0]),
        ],
      },
    }),
  }),
  read(
    "clock times across, a line for each day, a file for each animal",
    {
      put: { feeds: null },
      files: Object.fromEntries(
        ["P1", "P2"].map((id) => {
          const own = feedLines.map((l) => l.split(",")).filter((f) => f[0] === id);
          const clocks = [...new Set(own.map((f) => f[1]!.slice(11)))].sort();
          return [
            `feeds ${id}.csv`,
            few(
              ["Date", ...clocks].join(","),
              days.map((day) =>
                [
                  day,
                  ...clocks.map((t) => own.find((f) => f[1] === `${day} ${t}`)?.[3] ?? ""),
                ].join(","),
              ),
            ),
          ];
        }),
      ),
    },
    {
      rows: {
        feeds: [
          "animal_id | at | offered_g",
          "P1 | 2025-05-10 16:00 | 140",
          "P2 | 2025-05-01 04:10 | 150",
        ],
      },
      counts: { feeds: 158 },
    },
  ),
  read(
    "feeds headed by a date line for each day",
    {
      put: {
        feeds: `${feedsHead.replace("animal_id,at", "animal_id,Time")}\n${days
          .map((day) =>
            [
              day,
              ...feedLines
                .filter((l) => l.split(",")[1]!.startsWith(day))
                .map((l) => l.replace(`${day} `, "")),
            ].join("\n"),
          )
          .join("\n")}\n`,
      },
    },
    {
      rows: { feeds: ["animal_id | at | offered_g", "P1 | 2025-05-10 16:00 | 140"] },
      counts: { feeds: 158 },
    },
  ),
];
