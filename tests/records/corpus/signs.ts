import { dullStudy } from "./dull-study.js";
import { alarm, type PageWords, type RecordSet, unreadable } from "./record-set.js";

/** The study with observations of P1 on the evening of 10 May put below the others. */
function seen(name: string, lines: readonly string[], more: Omit<RecordSet, "name" | "files">) {
  const add = lines.map((line) => `P1,2025-05-10 ${line}\n`).join("");
  return { name, files: dullStudy({ add: { observations: add } }), ...more } satisfies RecordSet;
}

const both = (words: PageWords["handOver"] & object): Pick<RecordSet, "pages"> => ({
  pages: { P1: { handOver: words, sheet: words }, P2: { handOver: { never: [alarm] } } },
});
const raised = both({ says: [alarm] });
const calm = { quiet: true, ...both({ never: [alarm, unreadable] }) } as const;

const temperature = (name: string, cells: string, more: Omit<RecordSet, "name" | "files">) =>
  seen(`temperature ${name}`, [`18:30,temperature,${cells},`], more);
const shown = (word: RegExp) => ({
  pages: { P1: { handOver: { says: [unreadable, word] }, sheet: { says: [unreadable, word] } } },
});
/** Loud in one way or another, and shown as written. */
const loud = (word: RegExp) => ({
  pages: {
    P1: { handOver: { says: [new RegExp(`${alarm.source}|${unreadable.source}`, "i"), word] } },
  },
});

const none = ["none", "none seen", "no vomit", "nothing", "0x", "nil", "no", "None."];

export const signs: readonly RecordSet[] = [
  temperature("34.9C: the unit stands in the cell", "34.9C,", raised),
  temperature("94.8 F, in Fahrenheit", "94.8 F,", raised),
  temperature("94.8 with the unit deg F", "94.8,deg F", raised),
  temperature("94.8 with the unit Fahrenheit", "94.8,Fahrenheit", raised),
  temperature("34.9 with the unit °C", "34.9,°C", raised),
  temperature("34.9 Celsius", "34.9 Celsius,", raised),
  temperature("34,9 with a comma", '"34,9",degC', raised),
  temperature("37.8 °C in one cell is calm", "37.8 °C,", calm),
  temperature("100.1F is calm", "100.1F,", calm),
  temperature("99.9 with the unit F is calm", "99.9,F", calm),
  temperature("100.2 without a unit is asked about", "100.2,", {
    asked: [{ table: "observations", row: "100.2" }],
    pages: { P1: { handOver: { says: [/100\.2/] } } },
  }),
  temperature("in words is shown as written", "cold to the touch,", shown(/cold to the touch/)),
  temperature("under a limit: <35", "<35,degC", loud(/<35|&lt;35/)),
  temperature("as a range takes the worse end", "34.8-35.1,degC", loud(/34\.8-35\.1/)),
  temperature("with a word for not taken is no reading", "not taken,", {
    pages: { P1: { handOver: { never: [alarm] } } },
  }),

  seen(
    "vomit twice within three hours, plainly",
    ["15:30,vomit,yes,,", "18:30,vomit,yes,,"],
    raised,
  ),
  seen("vomit twice, in other words", ["15:30,vomit,small and milky,,", "18:30,vomit,+,,"], raised),
  seen("vomit 2x in one cell", ["18:30,vomit,2x,,"], raised),
  ...none.map((word) => seen(`vomit "${word}" is none`, [`18:30,vomit,${word},,`], calm)),
  seen("vomit that cannot be read", ["18:30,vomit,xx/f,,"], shown(/xx\/f/)),
  seen("regurgitation 0 mL is none", ["18:30,regurgitation,0 mL,,"], calm),
  seen("bloat none seen is none", ["18:30,bloat,none seen,,"], calm),
  seen("bloat, marked", ["18:30,bloat,marked,,"], raised),
  seen("glucose 1.8 mmol/L is low", ["18:30,glucose,1.8 mmol/L,,"], raised),
  seen("glucose 32 mg/dL is low", ["18:30,glucose,32,mg/dL,"], raised),
  seen("glucose 5.8 mmol/L is calm", ["18:30,glucose,5.8,mmol/L,"], calm),
  seen("glucose LO: below what the meter shows", ["18:30,glucose,LO,,"], loud(/\bLO\b/)),
  seen("an animal that cannot be roused", ["18:30,exam,cannot be roused,,"], raised),
  seen("an animal that will not suckle", ["18:30,exam,will not suckle,,"], raised),
  seen("an animal that is bright and suckles", ['18:30,exam,"bright, suckles well",,'], calm),
  {
    ...seen("a kind that is spelt Temp", ["18:30,Temp,34.9,degC,"], loud(/34\.9/)),
  },
];
