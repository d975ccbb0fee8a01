import type { AnimalAnalysis } from "../../analysis/study-analysis.js";
import { asWritten } from "../../core/as-written.js";
import { noticeText } from "../../core/catalogue.js";
import { screenWording } from "../../units/format.js";
import { localText } from "../../units/format-date.js";
import { hourMs } from "../../units/hour-ms.js";
import { say } from "../section/say.js";
import { type Block, list, table } from "../section/section.js";
import { signText } from "../section/sign-text.js";
import { notesOfShift } from "./notes-of-shift.js";

/**
 * What the signs of the 24 hours up to an instant raised: dangers first, newest first.
 * `unfed`: something forbids the next feed, so no line says "feed as ordered" beside it.
 */
export function alertLines(
  animal: AnimalAnalysis,
  until: number,
  zone: string,
  unfed: boolean,
): string[] {
  const isDanger = (a: (typeof animal.alerts)[number]) => Number(a.level === "danger");
  const recent = animal.alerts
    .filter((a) => a.at > until - 24 * hourMs && a.at <= until)
    .sort((a, b) => isDanger(b) - isDanger(a) || b.at - a.at);
  return recent.map(({ sentence }) => {
    const waits = unfed && sentence.code === "sign-danger-call";
    const said = waits ? { ...sentence, code: "sign-danger-call-unfed" as const } : sentence;
    return noticeText(said, screenWording(zone));
  });
}

/**
 * Every sign, treatment and note of the 24 hours up to an instant, word for word, with
 * what it was read as, notes beside weighings and feeds included; and what was not
 * written at all.
 */
export function signsOfShift(animal: AnimalAnalysis, until: number, zone: string): Block[] {
  const signs = animal.series.signs.filter((s) => s.at > until - 24 * hourMs && s.at <= until);
  const rows = [
    ...signs.map((s) => ({
      at: s.at,
      cells: [s.kind, asWritten(s.written), signText(s)],
    })),
    ...notesOfShift(animal.series, until - 24 * hourMs, until).map(({ at, what, words }) => ({
      at,
      cells: [what, words, ""],
    })),
  ].sort((a, b) => a.at - b.at);
  const any = (...kinds: readonly string[]) => signs.some((s) => kinds.includes(s.kind));
  const missing = [
    ...(any("urine", "stool", "vomit", "regurgitation") ? [] : [say("hand-over-no-outputs")]),
    ...(any("temperature") ? [] : [say("hand-over-no-temperature")]),
    ...(any("medication", "fluids", "exam") ? [] : [say("hand-over-no-treatment")]),
  ];
  return [
    table(
      "signs",
      say("hand-over-signs"),
      [{ title: "When" }, { title: "What" }, { title: "As written" }, { title: "Read as" }],
      rows.map(({ at, cells }) => [localText(at, zone), ...cells]),
      say("hand-over-no-signs"),
    ),
    ...(missing.length === 0 ? [] : [list(missing)]),
  ];
}
