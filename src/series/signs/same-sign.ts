import { sameContent } from "../../core/same-content.js";
import type { ObservationRow } from "../../records/study.js";
import type { Sign } from "./sign.js";

const { is } = Object;

/** `sameContent` of two readings of a sign, field by field by its name; see `sameFeed`. */
export function sameSign(a: Sign, b: Sign): boolean {
  return (
    is(a.at, b.at) &&
    is(a.kind, b.kind) &&
    is(a.written, b.written) &&
    is(a.state, b.state) &&
    is(a.sure, b.sure) &&
    is(a.count, b.count) &&
    sameRow(a.row, b.row) &&
    sameContent(a.measure, b.measure) &&
    sameContent(a.amount, b.amount) &&
    sameContent(a.findings, b.findings) &&
    sameContent(a.saidInWords, b.saidInWords) &&
    sameContent(a.question, b.question)
  );
}

function sameRow(a: ObservationRow, b: ObservationRow): boolean {
  return (
    is(a.at, b.at) &&
    is(a.animalId, b.animalId) &&
    is(a.kind, b.kind) &&
    is(a.value, b.value) &&
    is(a.valueText, b.valueText) &&
    is(a.unit, b.unit) &&
    is(a.notes, b.notes) &&
    is(a.decided, b.decided) &&
    is(a.origin.file, b.origin.file) &&
    is(a.origin.line, b.origin.line) &&
    is(a.origin.cell, b.origin.cell) &&
    sameContent(a.unread, b.unread)
  );
}
