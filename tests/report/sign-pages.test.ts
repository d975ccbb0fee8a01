import { describe, expect, it } from "vitest";
import { analyse } from "../../src/analysis/analyse.js";
import { changeOfShift } from "../../src/analysis/change-of-shift.js";
import { levelsOfDay } from "../../src/analysis/levels-of-day.js";
import { noticeText } from "../../src/core/catalogue.js";
import { planShift } from "../../src/planning/plan-shift.js";
import { parseStudy } from "../../src/records/parse-study.js";
import { animalPage } from "../../src/report/animal/animal-page.js";
import { firstLines } from "../../src/report/day/first-lines.js";
import { flagsTable } from "../../src/report/day/flags-table.js";
import { handOverSection } from "../../src/report/day/hand-over.js";
import { sectionText } from "../../src/report/section/plain-text.js";
import { dullStudy } from "../records/corpus/dull-study.js";

/**
 * A sign planted in the calm study of two otters: the text in that animal's block on
 * the hand-over, the day's list, the animal's page and the sheet, and its absence
 * without the plant and from the other animal.
 */
interface Pages {
  readonly handOver: (id: string) => string;
  readonly flags: (id: string) => string;
  readonly animal: (id: string) => string;
  readonly sheet: (id: string) => string;
}

async function pagesWith(lines: readonly string[]): Promise<Pages> {
  const observations = lines.map((line) => `P1,2025-05-10 ${line}\n`).join("");
  const files = dullStudy({ add: { observations } });
  const inputs = Object.entries(files).map(([path, text]) => ({ path, bytes: Buffer.from(text) }));
  const analysis = (await analyse(parseStudy(inputs), { onDay: "2025-05-10", curves: [] })).value;
  const until = changeOfShift(analysis)!;
  const levels = levelsOfDay(analysis, { at: until });
  const shift = planShift(analysis.series, { until, levels });
  const standing = (id: string) => ({
    level: levels.find((l) => l.animalId === id)!,
    shift: shift.animals.find((a) => a.animalId === id)!,
  });
  const of = (id: string) => analysis.animals.find((a) => a.animalId === id)!;
  const names: Readonly<Record<string, string>> = { P1: "Bramble", P2: "Thistle" };
  return {
    handOver: (id) => {
      const { level, shift: plan } = standing(id);
      return sectionText(handOverSection(analysis, of(id), until, plan, level));
    },
    flags: (id) =>
      flagsTable(analysis)
        .rows.filter((row) => String(row[0]).includes(names[id]!))
        .map((row) => row.join(" "))
        .join("\n"),
    animal: (id) =>
      animalPage(analysis, of(id), standing(id))
        .sections.map((s) => sectionText(s))
        .join("\n"),
    sheet: (id) => JSON.stringify(shift.sheet.animals.find((a) => a.animalId === id)),
  };
}

const hold = /Do not feed until the veterinarian has spoken/;
const call = /Call the veterinarian now; feed as ordered/;
const look = /Second look/;
const unread = /could not be read/;

/** [what, lines, text on the hand-over, what stands word for word]. */
const planted: readonly (readonly [string, readonly string[], RegExp, RegExp])[] = [
  [
    "a cold animal, unit in the cell",
    ["18:30,temperature,34.9C,,"],
    /Danger, cold: 34.9 °C/,
    /34\.9C/,
  ],
  [
    "a cold animal in Fahrenheit",
    ["18:30,temperature,94.8 F,,"],
    /Danger, cold: 34.89 °C/,
    /94\.8 F/,
  ],
  ["a temperature that cannot be read", ["18:30,temperature,see sheet,,"], unread, /see sheet/],
  ["a temperature without a unit", ["18:30,temperature,100.2,,"], /Which is it\?/, /100\.2/],
  ["vomit twice", ["15:30,vomit,yes,,", "18:30,vomit,small,,"], hold, /small/],
  ["vomit once", ["18:30,vomit,threw up milk,,"], look, /threw up milk/],
  ["vomit that cannot be read", ["18:30,vomit,xx/f,,"], unread, /xx\/f/],
  ["a stool that cannot be read", ["18:30,stool,ask Tor,,"], unread, /ask Tor/],
  ["bloody watery stool", ['18:30,stool,"bloody, watery",,'], call, /bloody, watery/],
  [
    "a third soft stool",
    ["09:30,stool,soft,,", "14:00,stool,loose,,", "18:30,stool,runny,,"],
    /soft stool.* 3 times in 24 h/,
    /runny/,
  ],
  ["three watery stools in one line", ["18:30,stool,watery x3,,"], call, /watery x3/],
  ["low glucose", ["18:30,glucose,28,mg/dL,"], call, /28 mg\/dL/],
  ["low glucose in mmol/L", ["18:30,glucose,1.8 mmol/l,,"], call, /1\.8 mmol\/l/],
  ["glucose below the meter", ["18:30,glucose,LO,,"], call, /LO/],
  ["glucose that cannot be read", ["18:30,glucose,E-3 error,,"], unread, /E-3 error/],
  [
    "not suckling",
    ['18:30,behaviour,"lethargic, not suckling",,'],
    hold,
    /lethargic, not suckling/,
  ],
  ["no suckle", ["18:30,suckle,none,,"], hold, /none/],
  ["cannot be roused", ["18:30,behaviour,unresponsive,,"], hold, /unresponsive/],
  ["behaviour that cannot be read", ["18:30,behaviour,odd,,"], unread, /odd/],
  ["a convulsion", ["18:30,seizure,once,,"], hold, /once/],
  ["dehydrated", ["18:30,hydration,sunken eyes,,"], call, /sunken eyes/],
  ["bloat", ["18:30,bloat,tight,,"], hold, /tight/],
  ["blood in a note", ["18:30,note,blood on the towel,,"], call, /blood on the towel/],
  ["lethargic", ["18:30,behavior,lethargic,,"], look, /lethargic/],
];

describe("signs on the pages", () => {
  it.each(planted)("%s", async (_, lines, says, word) => {
    const [with_, without] = [await pagesWith(lines), await pagesWith([])];
    expect(with_.handOver("P1")).toMatch(says);
    expect(with_.handOver("P1")).toMatch(word);
    // On the animal's page a temperature that was read for sure stands as what it was read as.
    const read = /^18:30,temperature,(34\.9C|94\.8 F)/.test(lines[0]!) ? /34\.(9|89) °C/ : word;
    expect(with_.animal("P1")).toMatch(read);
    expect(with_.flags("P1")).not.toBe(without.flags("P1"));
    expect(without.handOver("P1")).not.toMatch(says);
    expect(without.handOver("P1")).not.toMatch(word);
    expect(with_.handOver("P2")).toBe(without.handOver("P2"));
    if (says !== look && !says.source.includes("soft")) {
      expect(with_.sheet("P1")).toContain(lines.at(-1)!.split(",")[2]!.replaceAll('"', ""));
      expect(with_.sheet("P2")).toBe(without.sheet("P2"));
    }
  });

  it.each([
    ["18:30,vomit,none seen,,"],
    ["18:30,vomit,no vomit,,"],
    ["18:30,vomit,nothing,,"],
    ["18:30,vomit,0x,,"],
    ["18:30,regurgitation,0 mL,,"],
    ["18:30,bloat,none seen,,"],
    ["18:30,behaviour,bright and alert,,"],
    ["18:30,suckle,strong,,"],
    ["18:30,blood,no,,"],
    ["18:30,glucose,5.2 mmol/l,,"],
    ["18:30,temperature,37.8 °C,,"],
    ["18:30,medication,vitamin B1,,"],
  ])("%s raises nothing, and stands on the hand-over", async (line) => {
    const [with_, without] = [await pagesWith([line]), await pagesWith([])];
    expect(with_.handOver("P1")).toContain(line.split(",")[2]!);
    for (const raised of [hold, call, look, unread])
      expect(with_.handOver("P1")).not.toMatch(raised);
    expect(with_.flags("P1")).toBe(without.flags("P1"));
    expect(with_.sheet("P1")).toBe(without.sheet("P1"));
  });
});

it("limits, instructions and answers that would never be used stand in the first lines of every page", async () => {
  const files = dullStudy({});
  const settings = {
    ...JSON.parse(String(files["study.json"])),
    watch_limits: { glucose_danger: 3, glucos_look: [60, 250] },
    standing_instructions: { heat: "Cool slowly." },
  };
  const answers =
    "animal_id,reason,answered_at,answered_by,holds_until\nP1,chilly,2025-05-10 08:00,Tor,2025-05-10 20:00\n";
  const inputs = Object.entries({
    ...files,
    "study.json": JSON.stringify(settings),
    "answers.csv": answers,
  }).map(([path, text]) => ({ path, bytes: Buffer.from(text) }));
  const { value } = await analyse(parseStudy(inputs), { onDay: "2025-05-10", curves: [] });
  const said = value.records.aboutDay.map((n) => noticeText(n)).join("\n");
  for (const name of ["glucose_danger", "glucos_look", "heat", "chilly"])
    expect(said).toContain(`"${name}"`);
});

it("what several animals share stands before what is said of each, on the board and at the change of shift", async () => {
  const linesWith = async (...observations: string[]) => {
    const files = dullStudy({ add: { observations: observations.join("\n").concat("\n") } });
    const inputs = Object.entries(files).map(([path, text]) => ({
      path,
      bytes: Buffer.from(text),
    }));
    const study = parseStudy(inputs);
    return firstLines((await analyse(study, { onDay: "2025-05-10", curves: [] })).value);
  };
  const cold = (id: string) => `${id},2025-05-10 18:30,temperature,36.1 C,,`;
  expect(await linesWith(cold("P1"))).toEqual([]);
  const [first] = await linesWith(cold("P1"), cold("P2"));
  expect(first).toMatch(/^2 of 2 animals on one day: cold \(Bramble and Thistle\)\. Look first at/);
});
