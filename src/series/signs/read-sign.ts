import { type Notice, notice } from "../../core/notice.js";
import type { ObservationRow, StudySettings } from "../../records/study.js";
import { measuredInWords } from "./measured-in-words.js";
import { type MeasureReading, readMeasure } from "./read-measure.js";
import { readWords, type WordReading } from "./read-words.js";
import type { Finding, Sign, SignMeasure } from "./sign.js";
import type { SignKind } from "./sign-kind.js";
import { signKindOf } from "./sign-table.js";

export type SignSettings = Pick<StudySettings, "decimal" | "signDecimal" | "signUnits">;

/**
 * What one line of the observations means. Nothing else in the library looks at the
 * value of an observation.
 *
 * @example readSign({ kind: "temperature", valueText: "94.8 F", ... }, settings).measure // { low: 34.89, high: 34.89, unit: "degC" }
 * @example readSign({ kind: "vomit", valueText: "none seen", ... }, settings).state // "none"
 */
export function readSign(asRead: ObservationRow, settings: SignSettings): Sign {
  const row =
    asRead.valueText === null && asRead.value !== null
      ? { ...asRead, valueText: String(asRead.value) }
      : asRead;
  const kind = signKindOf(row.kind);
  const written = [row.valueText, row.unit, row.notes]
    .filter((x) => x !== null && x !== "")
    .join(" ");
  const base = {
    kind: row.kind,
    at: row.at,
    row,
    written,
    count: null,
    amount: null,
    measure: null,
  };
  switch (kind.holds) {
    case "measured":
      return measuredSign(base, kind, settings);
    case "free":
      return freeSign(base, kind, settings);
    case "treatment":
      return treatmentSign(base, kind);
    default:
      return wordSign(base, kind);
  }
}

type Base = Pick<Sign, "kind" | "at" | "row" | "written" | "count" | "amount" | "measure">;

/** Findings that stand even in the middle of free words. */
const grave: ReadonlySet<Finding> = new Set([
  "blood",
  "cannot be roused",
  "not suckling",
  "convulsion",
  "trouble breathing",
  "dehydrated",
  "vomit",
  "bloat",
  "regurgitation",
  "watery stool",
  "lethargic",
  "weak",
  "not eating",
  "shivering",
]);

function measuredSign(base: Base, kind: SignKind, settings: SignSettings): Sign {
  const { row } = base;
  const line = lineOf(row, row.valueText === null && row.notes !== null);
  const read = readMeasure(line, kind.measuring!, {
    decimal: settings.signDecimal ?? settings.decimal,
    column: row.unit,
    study: settings.signUnits?.[row.kind] ?? null,
  });
  const findings = graveIn(`${row.valueText ?? ""}, ${row.notes ?? ""}`, kind);
  if (read.is === "not looked")
    return { ...base, state: "not looked", sure: true, findings, question: null };
  if (read.is === "unclear")
    return {
      ...base,
      state: "unclear",
      sure: false,
      findings,
      question: ask(base, "sign-unreadable"),
    };
  const measure: SignMeasure = { low: read.low, high: read.high, unit: read.unit };
  return {
    ...base,
    measure,
    state: "present",
    sure: read.asks === null,
    findings,
    question: questionOf(base, read),
  };
}

function questionOf(base: Base, read: Extract<MeasureReading, { is: "measured" }>): Notice | null {
  if (read.asks === null) return null;
  const { low, high, unit: own } = read;
  const { code, unit: fits } = read.asks;
  return notice(code, "caution", { ...named(base), low, high, own, fits }, placeOf(base));
}

function wordSign(base: Base, kind: SignKind): Sign {
  const { row } = base;
  // Where the value is blank its notes speak for it.
  const blank = (row.valueText ?? "").trim() === "";
  const value = readWords(blank ? (row.notes ?? "") : lineOf(row, false), kind);
  const beside = blank || row.notes === null ? null : readWords(row.notes, kind);
  const read = beside === null ? value : together(value, beside, kind);
  const question =
    read.state === "unclear"
      ? ask(base, "sign-unreadable")
      : read.sure
        ? null
        : ask(base, "sign-doubtful");
  return { ...base, ...read, question };
}

/** A value and its notes: what the notes add, and a contradiction between the two. */
function together(value: WordReading, notes: WordReading, kind: SignKind): WordReading {
  const findings = [...new Set([...value.findings, ...notes.findings])].sort();
  const said = {
    ...value,
    findings,
    count: value.count ?? notes.count,
    amount: value.amount ?? notes.amount,
  };
  const contradicts =
    (value.state === "none" || value.state === "not looked") &&
    notes.state === "present" &&
    (kind.holds === "state" ||
      notes.findings.length > 0 ||
      notes.count !== null ||
      notes.amount !== null);
  if (contradicts) return { ...said, state: "present", sure: false };
  return value.state === "none" || value.state === "not looked"
    ? { ...said, count: null, amount: null }
    : said;
}

function freeSign(base: Base, kind: SignKind, settings: SignSettings): Sign {
  const { row } = base;
  const words = readWords(row.valueText ?? "", kind);
  const state = kind.kind !== "milestone" ? "present" : words.state;
  const findings = graveIn(`${row.valueText ?? ""}, ${row.notes ?? ""}`, kind);
  const said = measuredInWords(base.written, settings.signDecimal ?? settings.decimal);
  const inWords = said.length === 0 ? {} : { saidInWords: said };
  return { ...base, state, sure: true, findings, ...inWords, question: null };
}

/** What was given, and whether it was for an illness; unmarked medication is asked about. */
function treatmentSign(base: Base, kind: SignKind): Sign {
  const { row } = base;
  const read = readWords(`${row.valueText ?? ""}; ${row.notes ?? ""}`, kind);
  const given = read.state !== "none" && read.state !== "not looked";
  const isFor = /\b(for|against)\s+(?!\d|the\s+(day|night))\p{L}/u.test(base.written.toLowerCase());
  const found = new Set(read.findings);
  const routine = found.has("routine") && !found.has("treatment of illness");
  // "for loose stool": what it is for marks it, whatever it is.
  const ill =
    found.has("treatment of illness") ||
    [...found].some((f) => f !== "routine") ||
    (isFor && !routine);
  const treats = given && (ill || (kind.kind === "fluids" && !routine));
  // What was given for a convulsion tells of one.
  const told = treats ? read.findings.filter((f) => treatedAtOnce.has(f)) : [];
  const findings: Finding[] = treats
    ? [...told, "treatment of illness"]
    : routine
      ? ["routine"]
      : [];
  const question = given && findings.length === 0 ? ask(base, "sign-medication-unmarked") : null;
  return { ...base, state: given ? "present" : "none", sure: true, findings, question };
}

/** Findings for which something is given at once, never to prevent them day after day. */
const treatedAtOnce: ReadonlySet<Finding> = new Set([
  "convulsion",
  "cannot be roused",
  "trouble breathing",
]);

function graveIn(line: string, kind: SignKind): Finding[] {
  return readWords(line, kind).findings.filter((f) => grave.has(f));
}

/** Value and unit as one line; a unit of a measured kind is read by itself. */
function lineOf(row: ObservationRow, notesToo: boolean): string {
  const unit = signKindOf(row.kind).holds === "measured" ? null : row.unit;
  return [row.valueText, unit, notesToo ? row.notes : null].filter((x) => x !== null).join(" ");
}

type PlainQuestion = "sign-unreadable" | "sign-doubtful" | "sign-medication-unmarked";

function ask(base: Base, code: PlainQuestion): Notice {
  return notice(code, "caution", named(base), placeOf(base));
}

const named = ({ row, kind, at, written }: Base) => ({ animal: row.animalId, kind, at, written });

const placeOf = ({ row }: Base) => ({
  file: row.origin.file,
  table: "observations",
  line: row.origin.line,
  column: "value",
  animal: row.animalId,
});
