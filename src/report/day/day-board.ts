import type { DayAnswer } from "../../analysis/ask-day.js";
import type { AnimalAnalysis } from "../../analysis/study-analysis.js";
import type { AnimalLevel } from "../../flags/levels/level.js";
import { addDays, feedingDaySpan } from "../../units/calendar.js";
import { formatDate, formatInstant } from "../../units/format-date.js";
import { hourMs } from "../../units/hour-ms.js";
import type { BoardDue, BoardLevel, BoardPage } from "../section/board.js";
import { say } from "../section/say.js";
import { byWords, nextActs } from "./act-words.js";
import { askedOfOthers, leavingToday } from "./asked-lines.js";
import { boardRow, shownDays } from "./board-row.js";
import { dayHeadline } from "./day-headline.js";
import { firstLines } from "./first-lines.js";
import { gainAxis } from "./gain-axis.js";
import { sharedReasons } from "./shared-reasons.js";

const dueHours = 12;

export interface DayBoardOptions {
  /** Where an animal's own page lies; null where none is written. Default: nowhere. */
  readonly hrefOf?: (animalId: string) => string | null;
  /** Where the rows that could not be used are listed. Default: nowhere. */
  readonly recordsHref?: string;
}

/** The day's board without what a publisher adds: links, foot, font. */
export type DayBoard = Omit<BoardPage, "links" | "more" | "foot" | "style">;

/**
 * The day as lines to show: every animal in care, those of most concern first.
 *
 * @example dayBoard((await askDay(study)).value).rows[0].level // "danger"
 */
export function dayBoard(answer: DayAnswer, options: DayBoardOptions = {}): DayBoard {
  const { value: analysis } = answer.analysis;
  const { zone, feedingDayStartHour } = analysis.settings;
  const inCare = new Map(analysis.animals.filter((a) => a.inCare).map((a) => [a.animalId, a]));
  const span = feedingDaySpan(analysis.onDay, zone, feedingDayStartHour);
  const until = answer.shift?.until ?? analysis.records.end ?? span.to;
  const levels = answer.levels.filter((l) => inCare.has(l.animalId));
  const notUsed = analysis.records.setAside.length;
  const rowsNotUsed =
    notUsed === 0
      ? null
      : say("day-rows-not-used", { n: notUsed, linked: options.recordsHref !== undefined });
  const others = askedOfOthers(analysis, new Set(inCare.keys()), until);
  const shared = sharedReasons(levels, inCare, zone);
  return {
    year: analysis.onDay.slice(0, 4),
    title: say("day-title", { study: analysis.title }),
    where: [
      analysis.title,
      formatDate(analysis.onDay),
      say("day-records-up-to", { at: formatInstant(until, zone) }),
      ...(rowsNotUsed === null || options.recordsHref !== undefined ? [] : [rowsNotUsed]),
    ],
    rowsNotUsed:
      rowsNotUsed === null || options.recordsHref === undefined
        ? null
        : { href: options.recordsHref, text: rowsNotUsed },
    first: [...firstLines(analysis), ...shared.lines],
    headline: dayHeadline(levels, answer.shift, leavingToday(analysis)),
    dueTitle: say("day-due"),
    due: dueOf(levels, zone),
    columns: {
      why: say("day-column-why"),
      mass: say("day-column-mass", {
        from: addDays(analysis.onDay, -shownDays),
        to: analysis.onDay,
      }),
      gain: say("day-column-gain", { days: analysis.gainDays }),
      eaten: say("day-column-eaten"),
      signs: say("day-column-signs"),
    },
    keys: {
      mass: say("day-key-mass"),
      gain: say("day-key-gain"),
      eaten: say("day-key-eaten"),
      signs: say("day-key-signs"),
    },
    gainAxis: gainAxis([...inCare.values()]),
    gainLabel: (gain) => String(gain).replace("-", "−"),
    rows: levels.map((level) => {
      const animal: AnimalAnalysis = inCare.get(level.animalId)!;
      const shift = answer.shift?.animals.find((s) => s.animalId === level.animalId) ?? null;
      const href = options.hrefOf?.(level.animalId) ?? null;
      const row = boardRow(analysis, animal, level, shift, until, href);
      return {
        ...row,
        why: row.why.filter((line) => !shared.saysLine(line)),
        next: row.next.filter((act) => !shared.saysAct(act)),
      };
    }),
    whenEmpty: say("day-nobody"),
    ofOthers: others.length === 0 ? null : { title: say("asked-of-others"), lines: others },
    decide: { title: say("day-decide-title"), text: say("day-decide") },
    note: say("day-note"),
  };
}

/** What has an hour, the next first: one entry an animal, that of its gravest open reason. */
function dueOf(levels: readonly AnimalLevel[], zone: string): BoardDue[] {
  return levels
    .flatMap((level): (BoardDue & { readonly byAt: number })[] => {
      const reason = level.reasons.find((r) => r.answered === null && r.byAt !== null);
      const first = nextActs(level, zone)[0];
      if (reason?.byAt == null || first === undefined) return [];
      const at = (reason.byAt - level.at) / (dueHours * hourMs);
      if (at > 1) return [];
      return [
        {
          byAt: reason.byAt,
          at: Math.max(0, at),
          when: byWords(reason.byAt, level.at, zone).replace(/^By |:$/g, ""),
          level: reason.level satisfies BoardLevel,
          who: level.name ?? level.animalId,
          what: first.act.replace(/\.$/, ""),
        },
      ];
    })
    .sort((a, b) => a.byAt - b.byAt);
}
