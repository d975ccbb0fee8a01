import { type Notice, notice } from "../core/notice.js";
import { dangerNames } from "../flags/levels/animal-levels.js";
import { sameName } from "../flags/levels/answered-reasons.js";
import { isLimit } from "../flags/levels/limits-of-study.js";
import type { Column } from "../records/columns.js";
import { tableColumns } from "../records/columns.js";
import type {
  AnimalRow,
  DecisionRow,
  OrderedAmount,
  OrderedDays,
  PlanRow,
  Question,
  ReadRow,
  SetAsideRow,
  Study,
  StudySettings,
  StudyTables,
  TableName,
  Written,
} from "../records/study.js";
import type { Table } from "../records/table.js";
import { profileOf } from "../species/profile-of.js";
import { unitNamed } from "../units/quantity.js";
import { quietObservations } from "./quiet-observations.js";
import { isVouched, leftOut, type Named, type Vouch, vouchFor } from "./vouch.js";

/**
 * A study in which nobody can be named. Nothing is searched for names; it is the
 * other way round: numbers, instants, choices of a list and ids made of codes or of
 * vouched words stay, in canonical form, and every other text is left out or gets a
 * number in its place, and is counted in a notice. Files are called by their table.
 * Done before anything is computed, so that no exported file can carry what is gone.
 *
 * @example leaveOutPeople(study).tables.observations.at(0).notes // null
 */
export function leaveOutPeople(study: Study): Study {
  const vouch = vouchFor();
  const { tables } = study;
  const clean = <Row extends ReadRow>(table: TableName, rows: Table<Row>): Row[] =>
    rows.map((row) => cleanRow(table, row, vouch));
  const cleaned: StudyTables = {
    // Animals first, so that they are numbered as the table has them.
    animals: clean("animals", tables.animals),
    weighings: clean("weighings", tables.weighings),
    scaleChecks: clean("scale_checks", tables.scaleChecks),
    diets: clean("diets", tables.diets),
    batches: clean("batches", tables.batches),
    ingredients: clean("ingredients", tables.ingredients),
    feeds: clean("feeds", tables.feeds),
    plans: clean("plans", tables.plans).map(canonicalOrder),
    housing: clean("housing", tables.housing),
    observations: clean("observations", quietObservations(tables.observations, study.settings)),
    events: clean(
      "events",
      tables.events.filter((row) => row.kind !== "staff"),
    ),
  };
  const rest: Closed<Omit<Study, "tables" | "notices">> = {
    settings: cleanSettings(study.settings, vouch),
    setAside: study.setAside.map((row) => cleanSetAside(row, vouch)),
    counts: study.counts.map((count) => ({ ...count, file: count.table })),
    inputs: study.inputs.map(({ sha256, bytes }, i) => ({ path: `input ${i + 1}`, sha256, bytes })),
    standIns: study.standIns && clean("animals", study.standIns).map(standIn(vouch)),
    questions: study.questions?.map((q) => cleanQuestion(q, vouch)),
    columns: study.columns?.map((use) => ({
      ...use,
      file: use.table,
      header: use.column ?? leftOut,
      unit: use.unit === null ? null : unitNamed(use.unit),
    })),
    acknowledgements:
      study.acknowledgements &&
      clean("acknowledgements", study.acknowledgements).map((row) => ({
        ...row,
        by: null,
        note: "",
      })),
    answers: study.answers?.map((row) => ({
      ...cleanRow("answers", row, vouch),
      // The name of a reason is ours; anything else may be anybody's words.
      reason: dangerNames.find((name) => sameName(row.reason, name)) ?? leftOut,
      by: leftOut,
      note: null,
    })),
    decisions: study.decisions?.map((row) => ({
      ...cleanRow("decisions", row, vouch),
      ...cleanDecision(row),
    })),
  };
  const notices = study.notices.map((each) => cleanNotice(each, vouch));
  const values = vouch.count();
  return {
    ...written<Omit<Study, "tables" | "notices">>(rest),
    tables: cleaned,
    notices: [...notices, notice("records-people-left-out", "info", { values })],
  };
}

/** Which ids stand in which columns; every other text of a row is left out. */
const idColumns: Readonly<Record<string, Named>> = {
  animal_id: "animal",
  new_animal_id: "animal",
  group_id: "group",
  diet_id: "diet",
  batch_id: "batch",
  scale_id: "scale",
  place: "place",
  season: "season",
  species: "species",
};

/** A row whose cells are what their columns can vouch for; a text of no column is left out. */
function cleanRow<Row extends ReadRow>(table: TableName, row: Row, vouch: Vouch): Row {
  const columns = new Map(tableColumns[table].map((column) => [column.key as string, column]));
  const cells = Object.entries(row).map(([key, value]) => {
    if (typeof value !== "string") return [key, value];
    const column = columns.get(key);
    return [key, column === undefined ? null : cleanText(column, value, vouch)];
  });
  const { origin, unread } = row;
  return {
    ...(Object.fromEntries(cells) as Row),
    origin: { ...origin, file: table },
    ...(unread && {
      unread: Object.fromEntries(Object.keys(unread).map((key) => [key, leftOut])),
    }),
  };
}

function cleanText(column: Column, text: string, vouch: Vouch): string | null {
  const what = idColumns[column.name];
  if (what === "species") return profileOf(text).isTemplate ? vouch.id(what, text) : text;
  if (what !== undefined) return vouch.id(what, text);
  if (column.name === "unit") return unitNamed(text) !== null || isVouched(text) ? text : null;
  if (column.holds === "choice" || column.holds === "date" || column.holds === "rough date")
    return text;
  // The name of an animal may be a person's; the name of a diet is kept where it is food.
  return column.name === "name" ? vouch.words(text) : null;
}

const standIn = (vouch: Vouch) => (row: AnimalRow) => ({
  ...row,
  ...(row.withoutRow && { withoutRow: cleanNotice(row.withoutRow, vouch) }),
});

/** An order in canonical words: what was read, or that something stood there. */
function canonicalOrder(row: PlanRow): PlanRow {
  const amount = (cell: Written<OrderedAmount | "nil by mouth"> | null) =>
    canonical(cell, (v) => (v === "nil by mouth" ? v : `${v.amount} ${v.unit}`));
  return {
    ...row,
    to: canonical(row.to, () => (/^[\d\s.:/T-]+$/.test(row.to!.words) ? row.to!.words : leftOut)),
    perFeed: amount(row.perFeed),
    mlPerFeed: amount(row.mlPerFeed),
    perDay: amount(row.perDay),
    feedsPerDay: canonical(row.feedsPerDay, String),
    feedTimes: canonical(row.feedTimes, (times) => times.join(" ")),
    days: canonical(row.days, daysInWords),
  };
}

function canonical<T>(cell: Written<T> | null, words: (value: T) => string): Written<T> | null {
  if (cell === null) return null;
  return { ...cell, words: cell.value === null ? leftOut : words(cell.value) };
}

const weekdays = ["Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"];
const daysInWords = (days: OrderedDays) =>
  days.kind === "every"
    ? `every ${days.days} days`
    : days.days.map((day) => weekdays[day - 1]).join(" ");

function cleanDecision(row: DecisionRow): Partial<DecisionRow> {
  return {
    value: numberOnly(row.value),
    newValue: numberOnly(row.newValue),
    newUnit: row.newUnit == null ? null : unitNamed(row.newUnit),
    decidedBy: "left out",
    why: "left out",
  };
}

const numberOnly = (value: string | null | undefined): string | null =>
  typeof value === "string" && value.trim() !== "" && Number.isFinite(Number(value))
    ? String(Number(value))
    : null;

function cleanSetAside(row: SetAsideRow, vouch: Vouch): SetAsideRow {
  return {
    ...row,
    file: row.table,
    value: null,
    raw: [],
    reason: cleanNotice(row.reason, vouch),
    suggestion: cleanNotice(row.suggestion, vouch),
  };
}

function cleanQuestion(q: Question, vouch: Vouch): Question {
  return {
    ...q,
    file: q.table,
    animals: q.animals.map((animal) => vouch.id("animal", animal)),
    written: null,
    row: null,
    what: cleanNotice(q.what, vouch),
    todo: q.todo === null ? null : cleanNotice(q.todo, vouch),
  };
}

/** The sentence stays; of what it is given, numbers and vouched texts. */
function cleanNotice(each: Notice, vouch: Vouch): Notice {
  const kept = Object.entries(each.parameters).map(([name, value]) => [
    name,
    vouch.parameter(value),
  ]);
  const { place } = each;
  return {
    ...each,
    parameters: Object.fromEntries(kept),
    ...(place && {
      place: {
        ...place,
        ...(place.file !== undefined && { file: place.table ?? leftOut }),
        ...(place.animal !== undefined && { animal: vouch.id("animal", place.animal) }),
        ...(place.column !== undefined && { column: vouch.parameter(place.column) }),
      },
    }),
  };
}

/**
 * Every setting is named here: one that comes later does not compile before somebody has
 * said what of it names nobody.
 */
function cleanSettings(settings: StudySettings, vouch: Vouch): StudySettings {
  const species = (name: string) => (profileOf(name).isTemplate ? vouch.id("species", name) : name);
  const scale = (id: string) => vouch.id("scale", id);
  const animal = (id: string) => vouch.id("animal", id);
  const kept: Closed<StudySettings> = {
    zone: settings.zone,
    feedingDayStartHour: settings.feedingDayStartHour,
    blankTareIsZero: settings.blankTareIsZero,
    blankRefusalIsNone: settings.blankRefusalIsNone,
    dateStyle: settings.dateStyle,
    decimal: settings.decimal,
    signDecimal: settings.signDecimal,
    ordersByDiet: settings.ordersByDiet,
    orderBounds: settings.orderBounds,
    title: vouch.words(settings.title) ?? "Study",
    species: settings.species.map(species),
    scaleErrorG: entries(settings.scaleErrorG, (id, grams) => [scale(id), grams]),
    signUnits: entries(settings.signUnits, (kind, unit) =>
      unitNamed(unit) === null ? null : [kind, unit],
    ),
    speciesOverrides: entries(settings.speciesOverrides, (name, entry) => [
      species(name),
      cleanEntries(entry, vouch),
    ]),
    massBands: entries(settings.massBands, (id, { points }) => [
      animal(id),
      { setBy: null, points },
    ]),
    watchLimits: entries(settings.watchLimits, (name, limit) =>
      isLimit(name) ? [name, limit] : null,
    ),
    floorG: entries(settings.floorG, (id, grams) => [animal(id), grams]),
    priors: settings.priors?.map((prior, i) => ({
      ...prior,
      species: species(prior.species),
      file: `prior ${i + 1}`,
    })),
    // Whom to call and what to do until then name people and places.
    callWhom: undefined,
    standingInstructions: undefined,
  };
  return written(kept);
}

/** Every part named, so that one which comes later does not compile unnamed; undefined: left out. */
type Closed<T> = { readonly [Name in keyof Required<T>]: T[Name] | undefined };

/** What was named, without what was left out. */
function written<T extends object>(kept: Closed<T>): T {
  const there = Object.entries(kept).filter(([, value]) => value !== undefined);
  return Object.fromEntries(there) as T;
}

type Made<U> = readonly [string, U] | null;

/** A record made anew, entry by entry; what gives null is left out. */
function entries<T, U>(
  record: Readonly<Record<string, T>>,
  make: (key: string, value: T) => Made<U>,
): Record<string, U>;
function entries<T, U>(
  record: Readonly<Record<string, T>> | undefined,
  make: (key: string, value: T) => Made<U>,
): Record<string, U> | undefined;
function entries<T, U>(
  record: Readonly<Record<string, T>> | undefined,
  make: (key: string, value: T) => Made<U>,
): Record<string, U> | undefined {
  if (record === undefined) return undefined;
  const made = Object.entries(record).map(([key, value]) => make(key, value));
  return Object.fromEntries(made.filter((each) => each !== null));
}

/** Keys that an entry of a profile may have, beside the names of entries themselves. */
const entryKeys = new Set([
  ...Object.keys(profileOf("sea otter")),
  ..."range value unit sure fromD toD unusual impossible everyH share".split(" "),
  ..."timesResting gain setting betweenHours".split(" "),
]);

/** Numbers of a user's profile under the keys we know; texts where they are vouched for. */
function cleanEntries(entry: unknown, vouch: Vouch): unknown {
  if (Array.isArray(entry)) return entry.map((each) => cleanEntries(each, vouch));
  if (typeof entry === "string") return vouch.words(entry) ?? leftOut;
  if (typeof entry !== "object" || entry === null) return entry;
  return Object.fromEntries(
    Object.entries(entry)
      .filter(([key]) => entryKeys.has(key))
      .map(([key, value]) => [key, cleanEntries(value, vouch)]),
  );
}
