import type { AnimalAnalysis, StudyAnalysis } from "../../analysis/study-analysis.js";
import { noticeText } from "../../core/catalogue.js";
import { dayMs } from "../../units/day-ms.js";
import { screenWording } from "../../units/format.js";
import { localText } from "../../units/format-date.js";
import { say } from "../section/say.js";
import { columnWords } from "./column-words.js";

type Question = StudyAnalysis["records"]["questions"][number];

/** Who wrote it may still remember it. */
const ASKED_DAYS = 2;
/** An order is in force for longer than it takes to forget who wrote it. */
const ASKED_ORDER_DAYS = 14;
/** More of one kind than this are counted, not listed. */
const MOST_OF_A_KIND = 3;

/**
 * What the pages of the day ask about one animal: why it stands here at all
 * where the animals table does not say so, what its row there could not say,
 * and what was written in the last two days and could not be read, word for
 * word. Empty where all is well.
 */
export function askedLines(
  analysis: StudyAnalysis,
  animal: AnimalAnalysis,
  until: number,
): string[] {
  const wording = screenWording(analysis.settings.zone);
  const { withoutRow } = animal.series.animal;
  const own = recentQuestions(analysis, until).filter(
    (q) =>
      q.animals.includes(animal.animalId) && !(withoutRow !== undefined && q.table === "animals"),
  );
  return [
    ...[withoutRow, animal.outsideStay].flatMap((n) => (n == null ? [] : [noticeText(n, wording)])),
    ...leftToday(analysis, animal),
    ...questionLines(own, analysis.settings.zone),
  ];
}

/** One that leaves or died on the day itself stands on its pages, which plan a day that it may not need. */
export function leftToday(
  { onDay }: Pick<StudyAnalysis, "onDay">,
  { series: { animal } }: AnimalAnalysis,
): string[] {
  const { outcome, outcomeDate } = animal;
  if (outcomeDate !== onDay || outcome === null || outcome === "in care") return [];
  return [say("asked-left-today", { outcome })];
}

/** Who leaves or died on the day itself: "Garnock (died)". */
export const leavingToday = (analysis: StudyAnalysis): string[] =>
  analysis.animals
    .filter((a) => a.inCare && leftToday(analysis, a).length > 0)
    .map((a) => `${a.name ?? a.animalId} (${a.series.animal.outcome})`);

/** The same about nobody on the page: rows without a known animal, and animals that have left. */
export function askedOfOthers(
  analysis: StudyAnalysis,
  shown: ReadonlySet<string>,
  until: number,
): string[] {
  const others = recentQuestions(analysis, until).filter(
    (q) => !q.animals.some((id) => shown.has(id)) && (q.table !== "animals" || isNews(q, analysis)),
  );
  return questionLines(others, analysis.settings.zone);
}

/** A row of the animals table is old news once the animal's records have ended for a month. */
function isNews(q: Question, analysis: StudyAnalysis): boolean {
  const last = analysis.animals
    .filter((a) => q.animals.includes(a.animalId))
    .map((a) => a.series.span?.to ?? Number.POSITIVE_INFINITY);
  const end = analysis.records.end ?? Number.POSITIVE_INFINITY;
  return last.length === 0 || last.some((at) => at > end - 30 * dayMs);
}

function recentQuestions(analysis: StudyAnalysis, until: number): Question[] {
  return analysis.records.questions.filter((q) => {
    if (q.table === "animals") return q.what.code !== "records-rough-date";
    if (q.at === null) return false;
    return q.at > until - (q.table === "plans" ? ASKED_ORDER_DAYS : ASKED_DAYS) * dayMs;
  });
}

function questionLines(questions: readonly Question[], zone: string): string[] {
  const kinds = new Map<string, Question[]>();
  for (const q of questions) {
    const kind = `${q.table}|${q.column}|${q.what.code}`;
    kinds.set(kind, [...(kinds.get(kind) ?? []), q]);
  }
  return [...kinds.values()].flatMap((same) => {
    const newest = [...same].sort((a, b) => (b.at ?? 0) - (a.at ?? 0));
    const lines = newest.slice(0, MOST_OF_A_KIND).map((q) => questionLine(q, zone));
    const more = same.length - MOST_OF_A_KIND;
    return more > 0 ? [...lines, say("asked-more", { more, file: same[0]!.file })] : lines;
  });
}

function questionLine(q: Question, zone: string): string {
  const wording = screenWording(zone);
  const where = { file: q.file, line: String(q.line) };
  const why = [q.what, q.todo].flatMap((n) => (n === null ? [] : [noticeText(n, wording)]));
  if (q.setAside) {
    const row = q.row ?? q.written;
    return say("asked-row", { ...where, row, why: why.join(" ") });
  }
  // Where the time itself is in doubt, the one known is that of the row beside it.
  const at =
    q.at === null || q.column === "at" || q.column === "from" ? null : localText(q.at, zone);
  const lost = q.what.parameters["lost"] === true;
  const { written } = q;
  const column = q.column === null ? null : columnWords(q.column);
  return say("asked-cell", { ...where, column, written, at, lost, why: why.join(" ") });
}
