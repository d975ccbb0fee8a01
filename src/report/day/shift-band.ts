import type { AnimalAnalysis, StudyAnalysis } from "../../analysis/study-analysis.js";
import { noticeText } from "../../core/catalogue.js";
import type { AnimalLevel } from "../../flags/levels/level.js";
import type { AnimalShift } from "../../planning/plan-shift.js";
import { screenWording } from "../../units/format.js";
import { formatTime, localText } from "../../units/format-date.js";
import { formatMass } from "../../units/format-measured.js";
import { hourMs } from "../../units/hour-ms.js";
import { withNamedAnimals } from "../section/animal-names.js";
import { capital } from "../section/capital.js";
import { say } from "../section/say.js";
import type { ShiftBand, ShiftRule } from "../section/shift.js";
import { signSaid } from "../section/sign-text.js";
import { momentWords, nextActs } from "./act-words.js";
import { askedLines } from "./asked-lines.js";
import { graveOrders } from "./grave-orders.js";
import { doubtNotices, handOverSection } from "./hand-over.js";
import { nextFeed } from "./next-feed.js";
import { notToBeFed } from "./not-to-be-fed.js";
import { notesOfShift } from "./notes-of-shift.js";
import { reasonWords } from "./reason-words.js";
import { alertLines } from "./signs-of-shift.js";

const shiftHours = 12;

/** One animal at the change of shift: its next feed, its last twelve hours, what to watch. */
export function shiftBand(
  analysis: StudyAnalysis,
  animal: AnimalAnalysis,
  level: AnimalLevel,
  plan: AnimalShift | null,
  until: number,
): ShiftBand {
  const { zone } = analysis.settings;
  const wording = screenWording(zone);
  const { reasons, instructions } = reasonWords(animal, level, zone);
  const { possible, of } = level.checks;
  const calm = reasons.length === 0;
  const { name, animalId, species } = animal;
  const named = <Part>(part: Part) => withNamedAnimals(part, analysis.animals);
  return {
    animalId,
    heading: `${name === null ? animalId : `${name} (${animalId})`}, ${species}`,
    grave: graveOrders(plan, zone),
    level: level.level,
    next: nextFeed(plan, level, until, zone),
    rule: { ...ruleOf(animal, plan, until, zone), waits: notToBeFed(level) },
    changed: changedWords(animal, until, zone),
    watch: calm
      ? [say("shift-calm", { possible, of })]
      : [...new Set([...reasons, ...instructions])],
    acts: calm ? [] : nextActs(level, zone),
    said: named([
      { title: say("asked-title"), lines: askedLines(analysis, animal, until) },
      {
        title: say(notToBeFed(level) ? "shift-orders-wait" : "shift-orders"),
        lines: orderWords(plan, zone),
      },
      {
        title: say("shift-signs-and-doubts"),
        lines: [
          ...new Set([
            ...alertLines(animal, until, zone, notToBeFed(level)),
            ...doubtNotices(analysis, animal, until).map((n) => noticeText(n, wording)),
          ]),
        ].filter((line) => !reasons.includes(line)),
      },
    ]),
    full: named(handOverSection(analysis, animal, until, plan, level).blocks),
  };
}

function orderWords(plan: AnimalShift | null, zone: string): string[] {
  if (plan === null) return [];
  const wording = screenWording(zone);
  const { lines, said, timesOpen, usual } = plan.order;
  return [
    ...lines.map(
      (line) => `${line.words}.${line.doubted ? " ? Ask." : ""} ${noticeText(line.since, wording)}`,
    ),
    ...said.filter((n) => n.level === "info").map((n) => noticeText(n, wording)),
    ...(timesOpen ? [say("order-times-not-ordered")] : []),
    ...(usual.times.length > 0 ? [say("order-usual-hours", usual)] : []),
  ];
}

/** That nothing came is news of stool and urine alone. */
const isMissed = ({ kind }: { readonly kind: string }) => kind === "stool" || kind === "urine";

/** Mass, feeds and signs of the twelve hours, newest signs first. */
function changedWords(animal: AnimalAnalysis, until: number, zone: string): string[] {
  const from = until - shiftHours * hourMs;
  const within = (at: number) => at > from && at <= until;
  const { daily, weighings, feeds, signs } = animal.series;
  const last = [...daily].reverse().find((d) => d.at <= until);
  const before = [...daily].reverse().find((d) => last !== undefined && d.at < last.at);
  const doubted = weighings
    .filter((w) => w.slip !== null && w.netG !== null && within(w.at))
    .at(-1);
  const fed = feeds.filter((f) => within(f.at));
  const sum = (of: (f: (typeof fed)[number]) => number) =>
    Math.round(fed.reduce((a, f) => a + of(f), 0));
  const [low, high, offered] = [
    sum((f) => f.eatenLowG),
    sum((f) => f.eatenHighG),
    sum((f) => f.offeredG),
  ];
  const seen = signs
    .filter((s) => within(s.at) && (s.state !== "none" || s.findings.length > 0 || isMissed(s)))
    .map((s) => ({ at: s.at, what: signSaid(s) }));
  const notes = notesOfShift(animal.series, from, until).map(({ at, what, words }) => ({
    at,
    what: `${what}: ${words}`,
  }));
  const newestFirst = [...seen, ...notes]
    .reverse()
    .sort((a, b) => b.at - a.at)
    .map(({ at, what }) =>
      say("shift-sign", { what: capital(what), at: momentWords(at, until, zone) }),
    );
  return [
    ...(doubted === undefined
      ? []
      : [say("shift-mass-doubted", { mass: formatMass(doubted.netG!) })]),
    last !== undefined && within(last.at)
      ? say("shift-mass", {
          mass: formatMass(last.massG),
          change: before === undefined ? null : Math.round(last.massG) - Math.round(before.massG),
          since: before?.feedingDay ?? null,
        })
      : say("shift-not-weighed", {
          mass: last === undefined ? null : formatMass(last.massG),
          day: last?.feedingDay ?? null,
        }),
    fed.length === 0
      ? say("shift-no-feed")
      : high === 0
        ? say("shift-ate-none", { feeds: fed.length, offered })
        : say("shift-ate", {
            low,
            high,
            offered,
            feeds: fed.length,
            doubted: fed.some((f) => f.slip !== undefined),
          }),
    // One after the other: a line each would push the next animal off the page.
    newestFirst.length === 0 ? say("shift-nothing-else") : newestFirst.join(" "),
  ];
}

function ruleOf(
  animal: AnimalAnalysis,
  plan: AnimalShift | null,
  until: number,
  zone: string,
): Omit<ShiftRule, "waits"> {
  const place = (at: number) => (at - until) / (shiftHours * hourMs);
  const inside = (at: number) => Math.abs(place(at)) <= 1;
  const given = animal.series.feeds
    .filter((f) => f.at <= until && inside(f.at))
    .map((f) => ({
      at: place(f.at),
      least: f.offeredG > 0 ? Math.min(1, f.eatenLowG / f.offeredG) : 0,
      most: f.offeredG > 0 ? Math.min(1, f.eatenHighG / f.offeredG) : 0,
    }));
  const due = (plan?.due ?? []).filter((f) => inside(f.at)).map((f) => place(f.at));
  const signs = animal.alerts
    .filter((a) => a.at <= until && inside(a.at))
    .map((a) => ({ at: place(a.at), words: a.what }));
  const first = Math.ceil((until - shiftHours * hourMs) / hourMs) * hourMs;
  const hours = Array.from({ length: 2 * shiftHours + 1 }, (_, k) => first + k * hourMs)
    .filter((at) => inside(at) && Number(localText(at, zone).slice(11, 13)) % 6 === 0)
    .map((at) => ({ at: place(at), label: formatTime(at, zone) }));
  const ordered = plan?.order.state === "ordered";
  return {
    given,
    due,
    signs,
    hours,
    noTimes: ordered && due.length === 0 ? say("shift-times-not-ordered") : null,
    words: say("shift-rule-words", { given: given.length, due: due.length }),
  };
}
