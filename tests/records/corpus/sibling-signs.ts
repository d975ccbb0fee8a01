import { dullStudy } from "./dull-study.js";
import { alarm, type RecordSet, unreadable } from "./record-set.js";

function seen(name: string, lines: readonly string[], more: Omit<RecordSet, "name" | "files">) {
  const add = lines.map((line) => `P1,2025-05-10 ${line}\n`).join("");
  return { name, files: dullStudy({ add: { observations: add } }), ...more } satisfies RecordSet;
}

const raised = {
  pages: { P1: { handOver: { says: [alarm] }, sheet: { says: [alarm] } } },
} as const;
const calm = {
  quiet: true,
  pages: { P1: { handOver: { never: [alarm, unreadable] }, sheet: { never: [alarm] } } },
} as const;
const loud = (word: RegExp) => ({
  pages: {
    P1: {
      handOver: { says: [new RegExp(`${alarm.source}|${unreadable.source}`, "i"), word] },
    },
  },
});

/** Signs of the same classes in other spellings, written after the first ones were read. */
export const siblingSigns: readonly RecordSet[] = [
  seen("temperature 34.9 deg. C", ["18:30,temperature,34.9 deg. C,,"], raised),
  seen(
    "temperature 34.9 degrees celsius as the unit",
    ["18:30,temperature,34.9,degrees celsius,"],
    raised,
  ),
  seen("temperature 94.8ºF with the other ring", ["18:30,temperature,94.8ºF,,"], raised),
  seen("temperature 34.9 with a question mark", ["18:30,temperature,34.9?,degC,"], loud(/34\.9\?/)),
  seen("temperature 349: the point left out", ["18:30,temperature,349,degC,"], loud(/349/)),
  seen("temperature rectal 34.9", ["18:30,temperature,rectal 34.9,degC,"], loud(/rectal 34\.9/)),
  seen("temperature 37.8 in capitals of the unit", ["18:30,temperature,37.8,DEG C,"], calm),
  seen(
    "temperature LO: below what the thermometer shows",
    ["18:30,temperature,LO,degC,"],
    loud(/\bLO\b/),
  ),
  seen("temperature 35,2 C with a comma and a unit", ['18:30,temperature,"35,2 C",,'], raised),
  seen("vomit negative is none", ["18:30,vomit,negative,,"], calm),
  seen("vomit absent is none", ["18:30,vomit,absent,,"], calm),
  seen("vomit N is none", ["18:30,vomit,N,,"], calm),
  seen("vomit nothing seen is none", ["18:30,vomit,nothing seen,,"], calm),
  seen("vomit 0 g is none", ["18:30,vomit,0 g,,"], calm),
  seen("vomit Y twice", ["15:30,vomit,Y,,", "18:30,vomit,Y,,"], raised),
  seen("vomit a trace twice", ["15:30,vomit,trace,,", "18:30,vomit,trace,,"], raised),
  seen("vomit by mass, twice", ["15:30,vomit,12 g,,", "18:30,vomit,8,g,"], raised),
  seen(
    "vomit seen and regurgitation within two hours",
    ["16:30,regurgitation,about 5 mL,,", "18:30,vomit,seen,,"],
    raised,
  ),
  seen("bloat 0 is none", ["18:30,bloat,0,,"], calm),
  seen("bloat no is none", ["18:30,bloat,No,,"], calm),
  seen("bloat abdomen tight", ["18:30,bloat,abdomen tight,,"], raised),
  seen("stool with blood", ["18:30,stool,bloody,,"], raised),
  seen("stool formed and brown", ['18:30,stool,"formed, brown",,'], calm),
  seen("urine clear", ["18:30,urine,clear,,"], calm),
  seen("glucose 2,1 mmol/l with a comma", ['18:30,glucose,"2,1 mmol/l",,'], raised),
  seen("glucose 35 without a unit", ["18:30,glucose,35,,"], loud(/\b35\b/)),
  seen("glucose 102 mg/dl in small letters", ["18:30,glucose,102,mg/dl,"], calm),
  seen("a convulsion", ["18:30,exam,convulsion lasting a minute,,"], raised),
  seen("no convulsions", ['18:30,exam,"no convulsions, alert",,'], calm),
  seen("not responsive", ["18:30,exam,unresponsive,,"], raised),
  seen(
    "refuses to suckle, in the notes of an examination",
    ["18:30,exam,evening exam,,will not suckle"],
    raised,
  ),
  seen("a vitamin every day is no illness", ["18:30,medication,vitamin B1,25 mg,"], calm),
];
