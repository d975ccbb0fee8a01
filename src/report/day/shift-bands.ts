import type { DayAnswer } from "../../analysis/ask-day.js";
import { screenWording } from "../../units/format.js";
import { formatDate, formatTime } from "../../units/format-date.js";
import { hourMs } from "../../units/hour-ms.js";
import { say } from "../section/say.js";
import type { ShiftPage } from "../section/shift.js";
import { askedOfOthers, leavingToday } from "./asked-lines.js";
import { dayHeadline } from "./day-headline.js";
import { firstLines } from "./first-lines.js";
import { soonest } from "./next-feed.js";
import { notToBeFed } from "./not-to-be-fed.js";
import { sharedReasons } from "./shared-reasons.js";
import { shiftBand } from "./shift-band.js";

const halfDayMs = 12 * hourMs;

/** The change of shift without what a publisher adds: links, foot, font. */
export type ShiftBands = Omit<ShiftPage, "links" | "foot" | "style">;

/**
 * The change of shift as bands to show, those of most concern first.
 *
 * @example shiftBands((await askHandOver(study)).value).bands[0].next.time // "09:00"
 */
export function shiftBands(answer: DayAnswer, recordsHref?: string): ShiftBands {
  const { value: analysis } = answer.analysis;
  const { zone } = analysis.settings;
  const wording = screenWording(zone);
  const inCare = new Map(analysis.animals.filter((a) => a.inCare).map((a) => [a.animalId, a]));
  const levels = answer.levels.filter((l) => inCare.has(l.animalId));
  const until = answer.shift?.until ?? analysis.records.end ?? 0;
  const planOf = (id: string) => answer.shift?.animals.find((s) => s.animalId === id) ?? null;
  // Whoever is not to be fed has no next feed.
  const fed = new Set(levels.filter((l) => !notToBeFed(l)).map((l) => l.animalId));
  const next = soonest(
    (answer.shift?.animals ?? [])
      .filter((s) => fed.has(s.animalId))
      .flatMap((s) => s.due.map((f) => ({ at: f.at, id: s.animalId }))),
  );
  const nextName = next === undefined ? null : (inCare.get(next.id)?.name ?? next.id);
  const headline = [
    dayHeadline(levels, answer.shift, leavingToday(analysis)),
    ...(fed.size === 0
      ? []
      : [
          next === undefined || nextName === null
            ? say("shift-no-times")
            : say("shift-next-feed", { name: nextName, at: formatTime(next.at, zone) }),
        ]),
  ].join(" ");
  const shared = sharedReasons(levels, inCare, zone);
  const others = askedOfOthers(analysis, new Set(inCare.keys()), until);
  const notUsed = analysis.records.setAside.length;
  const rows =
    notUsed === 0
      ? null
      : say("day-rows-not-used", { n: notUsed, linked: recordsHref !== undefined });
  return {
    title: say("shift-title", { study: analysis.title }),
    year: analysis.onDay.slice(0, 4),
    where: [
      say("shift-title", { study: analysis.title }),
      formatDate(analysis.onDay),
      say("shift-records", { from: until - halfDayMs, to: until }, zone),
      ...(rows === null || recordsHref !== undefined ? [] : [rows]),
    ],
    rowsNotUsed:
      rows === null || recordsHref === undefined ? null : { href: recordsHref, text: rows },
    first: [...firstLines(analysis), ...shared.lines],
    headline,
    columns: {
      next: say("shift-column-next"),
      rule: say("shift-column-rule", { at: formatTime(until, zone) }),
      changed: say("shift-column-changed"),
      watch: say("shift-column-watch"),
    },
    bands: levels.map((level) => {
      const animal = inCare.get(level.animalId)!;
      const band = shiftBand(analysis, animal, level, planOf(level.animalId), until);
      return {
        ...band,
        watch: band.watch.filter((line) => !shared.saysLine(line)),
        acts: band.acts.filter((act) => !shared.saysAct(act)),
      };
    }),
    whenEmpty: say("hand-over-nobody"),
    ofOthers: others.length === 0 ? null : { title: say("asked-of-others"), lines: others },
    fold: say("shift-fold"),
    decide: say("shift-decide"),
    sign: [say("shift-handed"), say("shift-taken")],
    wording,
  };
}
