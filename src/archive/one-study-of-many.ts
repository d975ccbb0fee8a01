import type {
  ObservationRow,
  PlanRow,
  ReadRow,
  StudySettings,
  TableName,
} from "../records/study.js";
import { toLocal } from "../units/calendar.js";
import { hourMs } from "../units/hour-ms.js";
import type { ArchivedStudy } from "./archived-study.js";
import { recordColumns } from "./archived-tables.js";

type Row = Readonly<Record<string, unknown>>;

/** Settings under which rows of several studies stand together; of one, its own. */
export function settingsOf(studies: readonly ArchivedStudy[]): StudySettings {
  const [first] = studies;
  const own = first!.settings;
  if (studies.length === 1) return own;
  const oneClock = studies.every(
    (s) => s.zone === own.zone && s.feedingDayStartHour === own.feedingDayStartHour,
  );
  const facilities = [...new Set(studies.map((s) => s.facility))];
  return {
    title: facilities.join(", "),
    species: [...new Set(studies.flatMap((s) => s.settings.species))],
    zone: oneClock ? own.zone : "UTC",
    feedingDayStartHour: own.feedingDayStartHour,
    // Settled row by row, by what each study says of a blank.
    blankTareIsZero: false,
    blankRefusalIsNone: false,
    dateStyle: "year-month-day",
    decimal: "point",
    scaleErrorG: Object.fromEntries(
      studies.flatMap((s) =>
        Object.entries(s.settings.scaleErrorG).map(([scale, g]) => [`${s.facility}/${scale}`, g]),
      ),
    ),
    // The first study that overrides a species is followed.
    speciesOverrides: Object.assign(
      {},
      ...studies.map((s) => s.settings.speciesOverrides).reverse(),
    ) as StudySettings["speciesOverrides"],
  };
}

/** Ids that are one over all studies of a facility, and those that begin anew in each. */
const ofFacility = ["animalId", "newAnimalId", "scaleId"];
const ofStudy = ["dietId", "batchId", "groupId"];

/** Puts the facility before every id; before those that begin anew in each study, that too. */
export function namesOfStudy(study: ArchivedStudy, studies: readonly ArchivedStudy[]) {
  const siblings = studies.filter((s) => s.facility === study.facility);
  const n = siblings.indexOf(study) + 1;
  const within = siblings.length === 1 ? study.facility : `${study.facility}/${n}`;
  return (row: object): Row => {
    const named = { ...row } as Record<string, unknown>;
    for (const key of ofFacility)
      if (typeof named[key] === "string") named[key] = `${study.facility}/${named[key]}`;
    for (const key of ofStudy)
      if (typeof named[key] === "string") named[key] = `${within}/${named[key]}`;
    return named;
  };
}

/** Instants as they are where all houses have one clock; else each house's own wall clock. */
export function clockOfStudy(study: ArchivedStudy, settings: StudySettings) {
  const { zone, feedingDayStartHour: hour } = study;
  const same = zone === settings.zone && hour === settings.feedingDayStartHour;
  const shift = (hour - settings.feedingDayStartHour) * hourMs;
  const turned = (at: number) => toLocal(at, zone) - shift;
  return (table: TableName, row: Row): Row => {
    if (same) return row;
    const instants = recordColumns(table).filter((c) => c.type === "instant");
    const out: Record<string, unknown> = { ...row };
    for (const { key } of instants) if (typeof out[key] === "number") out[key] = turned(out[key]);
    const to = table === "plans" ? (row as unknown as PlanRow).to : null;
    if (to !== null && typeof to === "object" && to.value !== null)
      out["to"] = { ...to, value: turned(to.value) };
    return out;
  };
}

/** What a blank or a bare number means in a study, written into its rows. */
export function ownRules(study: ArchivedStudy) {
  const { blankTareIsZero, blankRefusalIsNone, signUnits, signDecimal, decimal } = study.settings;
  const isComma = (signDecimal ?? decimal) === "comma";
  return (table: TableName, row: Row): Row => {
    const unread = (row as unknown as ReadRow).unread ?? {};
    if (table === "weighings" && blankTareIsZero && row["tareG"] === null && !("tareG" in unread))
      return { ...row, tareG: 0 };
    const unknown = row["refusedG"] === null && !("refusedG" in unread);
    if (table === "feeds" && blankRefusalIsNone && unknown) return { ...row, refusedG: 0 };
    if (table !== "observations") return row;
    const { kind, unit } = row as unknown as ObservationRow;
    return { ...row, unit: unit ?? signUnits?.[kind] ?? null, ...(isComma ? pointed(row) : {}) };
  };
}

/** "38,4" as "38.4": what was written is read by the mark of the study that wrote it. */
function pointed(row: Row): Row {
  const { key } = recordColumns("observations").find((c) => c.name === "value_text")!;
  const words = row[key];
  return typeof words === "string" ? { [key]: words.replace(/(\d),(\d)/g, "$1.$2") } : {};
}
