import type { AnimalAnalysis, StudyAnalysis } from "../../analysis/study-analysis.js";
import type { Happening } from "../../analysis/what-happened.js";
import { formatDate, localText } from "../../units/format-date.js";
import { count } from "../../units/format-number.js";
import { animalLabel } from "../section/animal-label.js";
import { type Table, table } from "../section/section.js";

/** Diets, moves, events, treatments and what was seen, in order of time; batches and plans only counted. */
export function happeningsTable(
  analysis: StudyAnalysis,
  animal: AnimalAnalysis,
  happened: readonly Happening[],
): Table {
  const { zone } = analysis.settings;
  const batches = happened.filter((h) => h.kind === "batch begun").length;
  const plans = happened.filter((h) => h.kind === "plan changed").length;
  const elsewhere = new Set(["batch begun", "plan changed"]);
  const shown = merged(happened.filter((h) => !elsewhere.has(h.kind) && !isNotYet(h)));
  const first = happened[0];
  return table(
    "what-else",
    `What else was written about ${animalLabel(animal)}${first === undefined ? "" : ` since ${formatDate(localText(first.at, zone).slice(0, 10))}`}: ${count(batches, "batch", "batches")} begun and ${count(plans, "line")} of the plan changed stand as marks in the picture only. Milestones not yet reached and routine outputs are left out.`,
    [
      { title: "When (local)" },
      { title: "What" },
      { title: "As written" },
      { title: "Times", align: "number" },
      { title: "Last (local)" },
    ],
    shown.map((h) => [
      localText(h.at, zone),
      h.kind,
      h.words,
      h.times,
      h.times === 1 ? "" : localText(h.last, zone),
    ]),
    "Nothing but routine entries.",
  );
}

const isNotYet = (h: Happening) => h.words.startsWith("milestone: not yet");

/** The same entry written again and again stands once, with how often and until when. */
function merged(rows: readonly Happening[]) {
  const out = new Map<
    string,
    { at: number; kind: string; words: string; times: number; last: number }
  >();
  for (const h of rows) {
    const key = `${h.kind}|${h.words}`;
    const known = out.get(key);
    if (known === undefined) {
      out.set(key, { at: h.at, kind: h.kind, words: h.words, times: 1, last: h.at });
    } else out.set(key, { ...known, times: known.times + 1, last: h.at });
  }
  return [...out.values()].sort((a, b) => a.at - b.at);
}
