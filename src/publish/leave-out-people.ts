import { quietObservations } from "../analysis/quiet-observations.js";
import type { Notice } from "../core/notice.js";
import type { PlanRow, Question, SetAsideRow, Study, Written } from "../records/study.js";

/**
 * A study without what could name a person or a permit: free notes, who ordered
 * a plan, events about staff, and the written text of rows set aside in those
 * columns. Done before anything is computed, so that no exported file can
 * carry them.
 */
export function leaveOutPeople(study: Study): Study {
  const { tables } = study;
  const quiet = <Row extends { readonly notes: string | null }>(rows: readonly Row[]): Row[] =>
    rows.map((row) => ({ ...row, notes: null }));
  const ids = new Set(tables.animals.map((row) => row.animalId));
  return {
    ...study,
    tables: {
      ...tables,
      animals: quiet(tables.animals).map((row) => ({ ...row, outcomeReason: null })),
      weighings: quiet(tables.weighings),
      feeds: quiet(tables.feeds),
      batches: quiet(tables.batches),
      observations: quietObservations(tables.observations, study.settings),
      events: quiet(tables.events.filter((row) => row.kind !== "staff")),
      plans: quiet(tables.plans).map((row) => ({ ...withoutUnread(row), orderedBy: null })),
    },
    setAside: study.setAside.map((row) => withoutText(row, ids)),
    notices: study.notices.map((n) => (isHarmless(n.place?.column) ? n : withoutWritten(n))),
    ...(study.standIns === undefined
      ? {}
      : {
          standIns: quiet(study.standIns).map((row) => ({
            ...row,
            outcomeReason: null,
            ...(row.withoutRow === undefined ? {} : { withoutRow: withoutWritten(row.withoutRow) }),
          })),
        }),
    ...(study.questions === undefined
      ? {}
      : { questions: study.questions.map((q) => questionWithoutText(q)) }),
    ...(study.acknowledgements === undefined
      ? {}
      : {
          acknowledgements: study.acknowledgements.map((row) => ({ ...row, by: null, note: "" })),
        }),
    settings: quietSettings(study.settings),
    ...(study.answers === undefined
      ? {}
      : { answers: study.answers.map((row) => ({ ...row, by: "left out", note: null })) }),
    ...(study.decisions === undefined
      ? {}
      : {
          decisions: study.decisions.map((d) => ({
            ...d,
            value: numberOnly(d.value),
            newValue: numberOnly(d.newValue),
            decidedBy: "left out",
            why: "left out",
          })),
        }),
  };
}

/** Whom to call and what to do until then name people and places. */
function quietSettings(settings: Study["settings"]): Study["settings"] {
  const { callWhom: _whom, standingInstructions: _words, ...rest } = settings;
  return rest;
}

/** An order whose cells could not be read keeps that they are there, not what stands in them. */
function withoutUnread(row: PlanRow): PlanRow {
  const { to, perFeed, mlPerFeed, perDay, feedsPerDay, feedTimes, days } = row;
  const quiet = <T>(cell: Written<T> | null): Written<T> | null =>
    cell !== null && cell.value === null ? { ...cell, words: "(left out)" } : cell;
  return {
    ...row,
    to: quiet(to),
    perFeed: quiet(perFeed),
    mlPerFeed: quiet(mlPerFeed),
    perDay: quiet(perDay),
    feedsPerDay: quiet(feedsPerDay),
    feedTimes: quiet(feedTimes),
    days: quiet(days),
  };
}
/** As with observations: what was measured stays, a text may name somebody. */
const numberOnly = (value: string | null | undefined): string | null =>
  typeof value === "string" && value.trim() !== "" && Number.isFinite(Number(value)) ? value : null;

/** Columns that hold identifiers, times and numbers; every other cell as written is left out. */
const harmless =
  /^(animal_id|group_id|diet_id|batch_id|scale_id|at|from|to|kind|unit|.*_(g|pct|at|h|date))$/;

const isHarmless = (column: string | null | undefined) =>
  typeof column === "string" && harmless.test(column);

/** The row as written may hold a note; a harmless cell of it is kept. */
function questionWithoutText(q: Question): Question {
  if (isHarmless(q.column)) return { ...q, row: null };
  return {
    ...q,
    row: null,
    written: null,
    what: withoutWritten(q.what),
    todo: q.todo === null ? null : withoutWords(q.todo),
  };
}

/** The sentence stays; what was written in a cell or a row does not. */
function withoutWritten(n: Notice): Notice {
  const kept = Object.entries(n.parameters).map(([name, value]) => [
    name,
    name === "written" || name === "row" ? "(left out)" : value,
  ]);
  return { ...n, parameters: Object.fromEntries(kept) };
}

function withoutText(row: SetAsideRow, ids: ReadonlySet<string>): SetAsideRow {
  const raw = row.raw.filter((cell) => ids.has(cell));
  if (row.column !== null && harmless.test(row.column)) return { ...row, raw };
  return {
    ...row,
    value: null,
    raw,
    reason: withoutWords(row.reason),
    suggestion: withoutWords(row.suggestion),
  };
}

/** The sentence stays; words that came from the cell do not. */
function withoutWords(n: Notice): Notice {
  const parameters = Object.entries(n.parameters).map(([name, value]) => [
    name,
    typeof value === "string" ? "(left out)" : value,
  ]);
  return { ...n, parameters: Object.fromEntries(parameters) };
}
