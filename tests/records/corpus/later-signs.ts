import { dullStudy } from "./dull-study.js";
import { alarm, type RecordSet, unreadable } from "./record-set.js";

type More = Omit<RecordSet, "name" | "files">;
function seen(name: string, lines: readonly string[], more: More): RecordSet {
  const add = lines.map((line) => `P1,2025-05-10 ${line}\n`).join("");
  return { name, files: dullStudy({ add: { observations: add } }), ...more };
}

const raised: More = { pages: { P1: { handOver: { says: [alarm] }, sheet: { says: [alarm] } } } };
const calm: More = {
  quiet: true,
  pages: { P1: { handOver: { never: [alarm, unreadable] }, sheet: { never: [alarm] } } },
};
/** No reading and no alarm; it may be asked about. */
const noReading: More = { pages: { P1: { handOver: { never: [alarm] } } } };
const loud = (word: RegExp): More => ({
  pages: {
    P1: { handOver: { says: [new RegExp(`${alarm.source}|${unreadable.source}`, "i"), word] } },
  },
});
const shown = (word: RegExp): More => ({ pages: { P1: { handOver: { says: [word] } } } });

/** A third round of signs: kinds by other names, counts, two readings in a cell, words of alarm. */
export const laterSigns: readonly RecordSet[] = [
  seen("two temperatures in one cell", ["18:30,temperature,34.9 / 35.1,degC,"], loud(/34\.9/)),
  seen("a temperature taken again", ["18:30,temperature,34.9 (again 37.8),degC,"], loud(/34\.9/)),
  seen("a temperature in kelvin", ["18:30,temperature,308.0 K,,"], loud(/308/)),
  seen("a temperature with a small c", ["18:30,temperature,34.9,c,"], raised),
  seen("a calm temperature with a small f", ["18:30,temperature,99.9f,,"], calm),
  seen("a word where the unit belongs", ["18:30,temperature,34.9,rectal,"], loud(/34\.9/)),
  seen("a temperature of zero", ["18:30,temperature,0,degC,"], loud(/\b0 °C/)),
  seen("a temperature of 37.8 °F is asked about", ["18:30,temperature,37.8,degF,"], {
    asked: [{ table: "observations", row: "37.8,degF" }],
    ...loud(/37\.8 ?(°F|degF)/),
  }),
  {
    // 1,234 mmol/L can be one and a quarter, or twelve hundred: the table says which mark it uses.
    ...seen("glucose 1,234 mmol/L in a table with a decimal comma", [], raised),
    files: dullStudy({
      settings: { decimals: { observations: "comma" } },
      add: { observations: 'P1,2025-05-10 18:30,glucose,"1,234",mmol/L,\n' },
    }),
    pages: { P1: { handOver: { says: [alarm], never: [unreadable] } } },
  },
  seen("a dash for a temperature is no reading", ["18:30,temperature,-,degC,"], noReading),
  seen("vomit written as a count of two", ["18:30,vomit,2,,"], raised),
  seen("vomit, twice", ["18:30,vomit,twice,,"], raised),
  seen("vomit none, with how often was looked", ['18:30,vomit,"none, checked 3x",,'], calm),
  seen("vomit, checked twice: none", ['18:30,vomit,"checked twice: none",,'], calm),
  seen("vomit 2x, and checked after it", ['18:30,vomit,"2x, checked hourly",,'], raised),
  seen("vomit, not checked", ["18:30,vomit,not checked,,"], noReading),
  seen(
    "vomit told in the notes alone, twice",
    ["15:30,vomit,,,small amount of milk", "18:30,vomit,,,again some milk"],
    loud(/some milk|small amount/),
  ),
  seen("a kind called vomiting", ["15:30,vomiting,yes,,", "18:30,vomiting,yes,,"], raised),
  seen("a kind called emesis", ["15:30,emesis,yes,,", "18:30,emesis,yes,,"], loud(/emesis|vomit/i)),
  seen("a kind called blood glucose", ["18:30,blood glucose,1.8 mmol/L,,"], raised),
  seen("a kind called BG", ["18:30,BG,32,mg/dL,"], loud(/32/)),
  seen("glucose 32mg/dL in one cell", ["18:30,glucose,32mg/dL,,"], raised),
  seen("glucose HI: above what the meter shows", ["18:30,glucose,HI,,"], loud(/\bHI\b/)),
  seen("bloat, mild", ["18:30,bloat,mild,,"], raised),
  seen("an animal that is hard to rouse", ["18:30,exam,hard to rouse,,"], raised),
  seen("a seizure", ["18:30,exam,seizure at 18:10,,"], raised),
  seen("no seizure activity", ['18:30,exam,"no seizure activity, bright",,'], calm),
  seen("an animal that won't suckle", ["18:30,exam,won't suckle,,"], raised),
  seen("an animal that is not suckling", ["18:30,exam,not suckling,,"], raised),
  seen("an animal that is not lethargic", ['18:30,exam,"suckles well, not lethargic",,'], calm),
  seen("a convulsion in a note", ["18:30,note,convulsion at 18:10,,"], shown(/convulsion/)),
  seen("diarrhoea", ["18:30,stool,diarrhoea,,"], shown(/diarrhoea/)),
  seen("diarrhea in the other spelling", ["18:30,stool,watery diarrhea,,"], shown(/diarrhea/)),
  seen("stool none is none", ["18:30,stool,none,,"], noReading),
  seen("eyes sunken and gums dry", ['18:30,exam,"dehydrated, eyes sunken",,'], loud(/dehydrat/)),
];
