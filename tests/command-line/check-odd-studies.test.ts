import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { type CheckOutcome, runCheck } from "../../src/command-line/check.js";
import { type Change, dullStudy, type Files } from "../records/corpus/dull-study.js";
import { inFolder } from "../records/corpus/pages-of.js";

/** Five studies of keepers who write otherwise, on narrow and wide terminals. */
const without = (key: string): Files => {
  const files = dullStudy();
  const { [key]: _, ...rest } = JSON.parse(files["study.json"] as string) as Record<
    string,
    unknown
  >;
  return { ...files, "study.json": JSON.stringify(rest) };
};
const animals = (id: string, name: string): Change => ({
  put: {
    animals: `animal_id,name,species,sex,admitted_at,season,outcome\n${id},${name},sea otter,female,2025-03-24 14:00,2025,in care\n`,
  },
});
const stray = Array.from(
  { length: 30 },
  (_, i) => `P9,2025-05-0${1 + (i % 9)} 1${i % 10}:00,stool,ok,,\n`,
);

const studies: Readonly<
  Record<string, { files: Files; exit: 0 | 1 | 2; says: readonly string[]; last: RegExp }>
> = {
  "cells that cannot be read": {
    files: dullStudy({
      swap: {
        weighings: [
          ["P1,2025-05-10 06:30,4709,0", "P1,2025-05-10 06:30,47O9,0"],
          ["P1,2025-05-09 06:30,4657,0", 'P1,2025-05-09 06:30,"4,657",0'],
          ["P1,2025-05-08 06:30,4617,0", 'P1,2025-05-08 06:30,"4,617",0'],
        ],
        feeds: [["P1,2025-05-10 19:00,milk,140,0", "P1,2025-05-10 19:00,milk,7500,half"]],
      },
      add: { observations: stray.join("") },
    }),
    exit: 1,
    says: [
      // Two rows of one reason stand together, with the advice whole.
      "2 rows of weighings.csv mass_g, lines 16, 18:",
      "Write it without a mark between thousands, with the study's decimal mark.",
      "Letters stand among the digits: is 4709 meant?",
      'feeds.csv:158 refused_g "half": This is not a number.',
      "(30 times)",
    ],
    last: /^What to do first: 1\. 2 rows of weighings\.csv mass_g.* Write P9 into the table of animals/,
  },
  "headings of another tongue": {
    files: dullStudy({
      put: {
        weighings:
          "Tier;Datum;Gewicht (kg)\nP1;21.05.2025 06:30;4,31\nP1;22.05.2025 06:30;4,35\nP2;22.05.2025 06:30;4,75\n",
      },
    }),
    exit: 2,
    says: ['its header has "Tier", "Datum", "Gewicht (kg)"', "mass_g = Gewicht (kg) ("],
    last: /^What to do first: look the proposals over; to agree: gramline check .* --save-mapping$/,
  },
  "no zone": {
    files: without("zone"),
    exit: 2,
    says: ['needed a usable "zone", but "zone" is missing', "Add the study's time zone"],
    last: /Add the study's time zone/,
  },
  "animals under names of 150 letters": {
    files: dullStudy({ settings: { title: "T".repeat(300) }, ...animals("S".repeat(150), "n") }),
    exit: 0,
    says: ["T".repeat(50), "(240 times)"],
    last: /^What to do first: Write P1 and P2 into the table of animals/,
  },
  "a decision without its reason, and a slip": {
    files: dullStudy({
      swap: { weighings: [["P1,2025-05-10 06:30,4709,0", "P1,2025-05-10 06:30,4020,0"]] },
      put: {
        decisions:
          "animal_id,at,mass_g,decision,decided_by,decided_on\nP1,2025-05-10 06:03,4020,reject,Tor,2025-05-10\n",
      },
    }),
    exit: 1,
    says: ["Suspected slips: weighings.csv:20 P1: 4020 g", "lacks the column why"],
    // Nothing was found that could be agreed to: nobody is sent to --save-mapping.
    last: /^What to do first:(?!.*--save-mapping).*why/,
  },
};

describe("the check of odd studies", () => {
  const seen = new Map<string, CheckOutcome>();
  beforeAll(async () => {
    for (const [name, { files }] of Object.entries(studies))
      for (const width of [60, 120])
        await inFolder(files, async (folder) => {
          const options = { out: null, json: false, saveMapping: false, today: "2025-05-11" };
          seen.set(`${name} ${width}`, await runCheck(folder, { ...options, width }));
        });
  });
  afterAll(() => seen.clear());

  for (const [name, { exit, says, last }] of Object.entries(studies))
    for (const width of [60, 120])
      it(`${name}, ${width} characters wide`, () => {
        const { text, exitCode } = seen.get(`${name} ${width}`)!;
        expect(exitCode).toBe(exit);
        const lines = text.split("\n");
        expect(Math.max(...lines.map((line) => line.length))).toBeLessThanOrEqual(width);
        const whole = text.replace(/\s+/g, " ");
        for (const words of says) expect(whole).toContain(words);
        const end = text.split(/\n(?=What to do first|Nothing to do)/).at(-1)!;
        expect(end.replace(/\s+/g, " ")).toMatch(last);
        // Nothing but a title without end is cut off with dots, and one is not many.
        expect(whole.replace(/^(?:T+ ?)+…/, "")).not.toMatch(
          /\.\.\.|…|\b1 more (?:kinds|reasons|slips|feeds)/,
        );
      });
});
