import { type Notice, notice } from "../../core/notice.js";
import { seriesUpTo } from "../../rates/series-up-to.js";
import { type SignAlert, signAlerts } from "../../rates/sign-alerts.js";
import { inCareOn } from "../../reference/in-care.js";
import type { AnimalSeries, Instant, StudySeries } from "../../series/animal-series.js";
import { dayOrder } from "../../series/orders/day-order.js";
import { orderAt } from "../../series/orders/order-steps.js";
import { profileOf } from "../../species/profile-of.js";
import { addDays, feedingDayOf } from "../../units/calendar.js";
import { dayMs } from "../../units/day-ms.js";
import { hourMs } from "../../units/hour-ms.js";
import type { AnimalDay } from "../animal-day/flag.js";
import { prepareAnimal } from "../animal-day/prepared-animal.js";
import { whatIsWritten } from "../rules/what-is-written.js";
import { answeredReasons, sameName } from "./answered-reasons.js";
import { excretionIsJudged, excretionReasons } from "./excretion-reasons.js";
import { fedWhileNil } from "./fed-while-nil.js";
import { feedReasons } from "./feed-reasons.js";
import { flagReasons } from "./flag-reasons.js";
import {
  type AnimalLevel,
  gravestFirst,
  type Level,
  type LevelCheck,
  type LevelReason,
  levelOrder,
  otherReasons,
} from "./level.js";
import type { LevelCase } from "./level-case.js";
import type { LevelLimits } from "./level-limits.js";
import { limitsOfStudy } from "./limits-of-study.js";
import { lossIsJudged, lossReasons } from "./loss-reasons.js";
import { makeReason } from "./make-reason.js";
import { measureReasons } from "./measure-reasons.js";
import { signReasons } from "./sign-reasons.js";
import { silenceReasons } from "./silence-reasons.js";
import { temperatureReasons } from "./temperature-reasons.js";

export interface LevelOptions {
  /** The instant judged; nothing later is read. */
  readonly at: Instant;
  /** The clock, where it is known: so long after the last line of all, nothing can be said of now. */
  readonly now?: Instant;
  /** The day's list of flags, for what weighings and rules of practice raise. */
  readonly days?: readonly AnimalDay[];
  /** What else is a danger about an animal's orders, found where orders are checked. */
  readonly orderDangers?: (animalId: string) => readonly Notice[];
  /** Overrules the limits of the study. */
  readonly limits?: Partial<LevelLimits>;
  /** These animals; the others still tell who is silent. Default: all in care on the day. */
  readonly only?: readonly string[];
}

/**
 * The level of every animal in care at an instant, with its act and every reason,
 * gravest first. Danger, then second look (silence foremost), measure first, not
 * judged, nothing raised. A doubt counts as its worse meaning; an answer lowers a
 * danger to a second look and changes no other line; nothing here withholds what is
 * ordered. No diagnosis: the attending veterinarian decides.
 *
 * @example animalLevels(series, { at })[0] // { animalId: "P1", level: "danger", act: "call now, feed as ordered", ... }
 */
export function animalLevels(study: StudySeries, options: LevelOptions): readonly AnimalLevel[] {
  const { at } = options;
  const { settings } = study;
  const today = feedingDayOf(at, settings.zone, settings.feedingDayStartHour);
  const limits = { ...limitsOfStudy(settings).limits, ...options.limits };
  const written = whatIsWritten(study.animals, settings, limits);
  const judge = (series: AnimalSeries, when: Instant, day: AnimalDay | null) => {
    const c = caseOf(series, when, study, limits, written, day);
    const orders = options.orderDangers?.(series.animal.animalId) ?? [];
    const own = [...reasonsOf(c), ...orders.slice(0, 1).map((n) => orderDanger(c, n))];
    return { c, reasons: [...own, ...flagReasons(c, own)] };
  };
  const end = Math.max(...study.animals.map((a) => newestUpTo(a, at) ?? Number.NEGATIVE_INFINITY));
  return study.animals
    .filter((a) => options.only?.includes(a.animal.animalId) ?? inCareOn(a, today, settings))
    .map((series) => {
      const { animalId, name } = series.animal;
      const day = options.days?.find((d) => d.animalId === animalId) ?? null;
      const { c, reasons } = judge(series, at, day);
      const ended = recordsEnd(end, options.now ?? at, c);
      const answers = (study.answers ?? []).filter((row) => row.animalId === animalId);
      const then = (when: Instant) => judge(series, when, day).reasons;
      // Nobody can answer for records that end.
      const answered = [...answeredReasons(reasons, answers, at, then), ...ended];
      const missing = missingChecks(c);
      const said = [...answered, ...notJudged(c, answered)].map((r) => instructed(r, study));
      const all = unfed(said);
      const open = all.filter((r) => r.answered === null).sort(gravestFirst);
      const closed = all.filter((r) => r.answered !== null).sort(gravestFirst);
      const level = levelOf(open, closed);
      return {
        animalId,
        name,
        at,
        level,
        act: open[0]?.level === level ? open[0].act : null,
        reasons: [...open, ...closed],
        checks: {
          possible: everyCheck.length - missing.length,
          of: everyCheck.length,
          missing,
        },
        call: settings.callWhom ?? null,
      };
    });
}

/** Limits and standing instructions of study.json that name nothing: they would never be used. */
export function levelNotices(study: Pick<StudySeries, "settings" | "answers">): readonly Notice[] {
  const names = Object.keys(study.settings.standingInstructions ?? {});
  const unknown = names.filter((name) => !dangerNames.some((known) => sameName(name, known)));
  const astray = (study.answers ?? []).filter(
    (row) => !reasonNames.some((known) => sameName(row.reason, known)),
  );
  return [
    ...limitsOfStudy(study.settings).notices,
    ...astray.map((row) =>
      notice("level-answer-astray", "problem", {
        name: row.reason,
        animal: row.animalId,
        at: row.at,
        by: row.by,
      }),
    ),
    ...unknown.map((name) =>
      notice("level-instruction-unknown", "problem", { name, known: dangerNames }),
    ),
  ];
}

/** What can stand as a danger, and so can have a standing instruction. */
export const dangerNames: readonly LevelReason["what"][] = [
  "cold",
  "hot",
  "glucose",
  "repeated vomit",
  "bloat",
  "blood",
  "convulsion",
  "cannot be roused",
  "not suckling",
  "trouble breathing",
  "dehydrated",
  "watery stool",
  "no stool",
  "no urine",
  "no feed",
  "feed far above bounds",
  "fed while nothing by mouth",
  "loss",
  "silence",
];

/** Every name that a reason can have. */
const reasonNames: readonly LevelReason["what"][] = [...dangerNames, ...otherReasons];

const everyCheck: readonly LevelCheck[] = [
  "temperature",
  "signs",
  "stool and urine",
  "feeds",
  "mass",
  "mass against what is expected",
];

function caseOf(
  whole: AnimalSeries,
  at: Instant,
  study: StudySeries,
  limits: LevelLimits,
  written: LevelCase["written"],
  day: AnimalDay | null,
): LevelCase {
  const { settings } = study;
  const series = seriesUpTo(whole, at);
  const profile = profileOf(series.animal.species, settings.speciesOverrides);
  const birth = series.age.birthLatest;
  const ageD = birth === null ? null : (at - birth) / dayMs;
  const others = study.animals
    .filter((a) => a.animal.animalId !== series.animal.animalId)
    .flatMap((a) => newestUpTo(a, at) ?? []);
  const heardOfOthers = others.length === 0 ? null : Math.max(...others);
  const heard = Math.max(heardOfOthers ?? 0, newestUpTo(series, at) ?? 0);
  return {
    series,
    prepared: prepareAnimal(series, settings, []),
    at,
    heard,
    heardOfOthers,
    feedsAreWritten: study.animals.some((a) =>
      a.feeds.some((f) => f.at <= at && f.at > at - 2 * dayMs),
    ),
    temperaturesAreWritten: study.animals.some((a) =>
      a.signs.some((s) => s.kind === "temperature" && s.at <= at),
    ),
    ageD,
    veryYoung: ageD === null || ageD < profile.veryYoung.value,
    alerts: alertsOf(series, at, limits),
    profile,
    settings,
    limits,
    written,
    nextFeedAt: nextFeed(series, at),
    day,
  };
}

function reasonsOf(c: LevelCase): LevelReason[] {
  const own = [
    ...temperatureReasons(c),
    ...signReasons(c),
    ...excretionReasons(c),
    ...feedReasons(c),
    ...fedWhileNil(c),
    ...lossReasons(c),
    ...measureReasons(c),
  ];
  return withOthers([...own, ...silenceReasons(c)]);
}

/** A feed that is ordered far above bounds is printed as ordered, and not given before it was asked about. */
function orderDanger(c: LevelCase, why: Notice): LevelReason {
  const since = orderAt(c.series.orders, c.at).since ?? c.at;
  return makeReason({
    level: "danger",
    what: "feed far above bounds",
    sentence: why,
    at: Math.min(since, c.at),
    act: "do not feed until spoken",
    byAt: c.at,
  });
}

/** A silence, or a feed missed, beside any other sign is a danger. */
function withOthers(reasons: readonly LevelReason[]): LevelReason[] {
  const alone = new Set<LevelReason["what"]>(["silence", "missed feed", "no order"]);
  const signs = reasons.filter(
    (r) => !alone.has(r.what) && (r.level === "danger" || r.level === "second look"),
  );
  if (signs.length === 0) return [...reasons];
  const names = signs.map((s) => s.what);
  return reasons.map((r): LevelReason => {
    const parameters = { animal: String(r.sentence.parameters["animal"]), signs: names };
    if (r.what === "silence")
      return asDanger(r, notice("level-silence-danger", "problem", parameters));
    if (r.what === "missed feed" && r.act !== null)
      return {
        ...asDanger(r, notice("level-missed-feed-danger", "problem", parameters)),
        what: "no feed",
      };
    return r;
  });
}

function asDanger(r: LevelReason, sentence: Notice): LevelReason {
  return {
    ...r,
    level: "danger",
    act: "call now, feed as ordered",
    suggestionsWait: true,
    sentence,
  };
}

function alertsOf(series: AnimalSeries, at: Instant, limits: LevelLimits): readonly SignAlert[] {
  return signAlerts(series.signs, limits).filter((a) => a.at > at - dayMs && a.at <= at);
}

/** Newest line written of an animal up to an instant. */
function newestUpTo(series: AnimalSeries, at: Instant): Instant | null {
  const rows = [series.feeds, series.sharedFeeds, series.weighings, series.signs];
  let newest: Instant | null = null;
  for (const of of rows as readonly (readonly { readonly at: Instant }[])[]) {
    for (let i = of.length - 1; i >= 0; i--) {
      if (of[i]!.at > at) continue;
      if (newest === null || of[i]!.at > newest) newest = of[i]!.at;
      break;
    }
  }
  return newest;
}

function nextFeed({ orders }: AnimalSeries, at: Instant): Instant | null {
  const today = feedingDayOf(at, orders.zone, orders.startHour);
  const times = [today, addDays(today, 1)].flatMap((day) =>
    dayOrder(orders, day).feeds.flatMap((f) => (f.at === null || f.at <= at ? [] : [f.at])),
  );
  return times.length === 0 ? null : Math.min(...times);
}

/** All are silent: nothing can be said of now, whatever stood when the records ended. */
function recordsEnd(end: Instant, now: Instant, c: LevelCase): LevelReason[] {
  const hours = (now - end) / hourMs;
  const limit = c.veryYoung ? c.limits.silentYoungH : c.limits.silentH;
  if (!(hours > limit)) return [];
  const sentence = notice("level-records-end", "problem", { end, hours });
  return [makeReason({ level: "not judged", what: "records end", sentence, at: end, byAt: now })];
}

/** Nothing raised is never said where the mass could not be judged. */
function notJudged(c: LevelCase, reasons: readonly LevelReason[]): LevelReason[] {
  if (reasons.length > 0 || lossIsJudged(c)) return [];
  const { animalId, admittedAt } = c.series.animal;
  return [
    makeReason({
      level: "not judged",
      what: "weigh first",
      sentence: notice("level-nobody-judged", "caution", { animal: animalId }),
      at: admittedAt ?? c.at,
    }),
  ];
}

function missingChecks(c: LevelCase): LevelCheck[] {
  const recent = c.series.signs.filter((s) => s.at > c.at - dayMs && s.state !== "not looked");
  const judged = c.day === null ? [] : [...c.day.raised, ...c.day.within];
  const possible: Record<LevelCheck, boolean> = {
    temperature: recent.some((s) => s.kind === "temperature" && s.measure !== null),
    signs: recent.some((s) => s.kind !== "temperature"),
    "stool and urine": excretionIsJudged(c),
    feeds: c.prepared.feedAt.some((t) => t > c.at - dayMs),
    mass: lossIsJudged(c),
    "mass against what is expected": judged.some((s) => s.class === "statistical"),
  };
  return everyCheck.filter((check) => !possible[check]);
}

/** The gravest open reason; an answered danger leaves a second look, never less. */
function levelOf(open: readonly LevelReason[], closed: readonly LevelReason[]): Level {
  const rank = (level: Level) => levelOrder.indexOf(level);
  const own = open[0]?.level ?? "nothing raised";
  const answeredDanger = closed.some((r) => r.level === "danger");
  return answeredDanger && rank(own) > rank("second look") ? "second look" : own;
}

/** Where one reason forbids the next feed, answered or not, no other says "feed as ordered" beside it. */
function unfed(reasons: readonly LevelReason[]): LevelReason[] {
  const forbids = reasons.some((r) => r.act === "do not feed until spoken");
  if (!forbids) return [...reasons];
  return reasons.map((r) =>
    r.sentence.code === "sign-danger-call"
      ? { ...r, sentence: { ...r.sentence, code: "sign-danger-call-unfed" } }
      : r,
  );
}

function instructed(reason: LevelReason, { settings }: StudySeries): LevelReason {
  if (reason.level !== "danger") return reason;
  const words = Object.entries(settings.standingInstructions ?? {}).find(([name]) =>
    sameName(name, reason.what),
  );
  return words === undefined ? reason : { ...reason, standingInstruction: words[1] };
}
