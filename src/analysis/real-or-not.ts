import { type Notice, notice } from "../core/notice.js";
import type { Result } from "../core/result.js";
import { gainOverWindow } from "../rates/gain-over-window.js";
import type { DailyMass, NetWeighing } from "../series/animal-series.js";
import { median } from "../stats/descriptive/median.js";
import { addDays, feedingDaySpan } from "../units/calendar.js";
import { dayMs } from "../units/day-ms.js";
import { hourMs } from "../units/hour-ms.js";
import { type ChangeOfGain, changeOfGain } from "./change-of-gain.js";
import { isItASwap } from "./is-it-a-swap.js";
import { isItTheScale } from "./is-it-the-scale.js";
import type { RealAnswer, RealOrNot, RecordWindow, Shortfall } from "./real-answer.js";
import type { AnimalAnalysis, StudyAnalysis } from "./study-analysis.js";

export interface RealOrNotOptions {
  /** Fewest days looked at. Default 14; more where the change lies further back. */
  readonly days?: number;
  readonly change?: ChangeOfGain;
  /** Grams missing since a day, for what a failed check would explain of them. */
  readonly shortfall?: Shortfall | null;
}

/** Days before the earliest day of the change that are looked at too, and the most in all. */
const beforeChangeD = 7;
const mostDays = 49;
/** A gain that moves by more than this share of itself when weighings are left out is moved by them. */
const movedBy = 0.25;

/**
 * Is the slow gain real? The four things that would imitate it (scale, coat,
 * meal, exchanged animals), each answered from the records of the days since a
 * week before the change, with numbers, or with the reason why it cannot be told.
 * None of them clears the animal; a scale is concluded only from a failed
 * known-weight check or from two scales that disagree on the same animals.
 *
 * @example realOrNot(analysis, animal).value.answers[0].verdict // "not found"
 */
export function realOrNot(
  analysis: StudyAnalysis,
  animal: AnimalAnalysis,
  options: RealOrNotOptions = {},
): Result<"real-or-not", RealOrNot> {
  const change = options.change ?? changeOfGain(analysis, animal).value;
  const { onDay } = analysis;
  const { zone, feedingDayStartHour } = analysis.settings;
  const wanted = [
    addDays(onDay, -(options.days ?? 14)),
    ...(change.earliest === null ? [] : [addDays(change.earliest, -beforeChangeD)]),
  ].sort()[0]!;
  const fromDay = [wanted, addDays(onDay, -mostDays)].sort()[1]!;
  const from = feedingDaySpan(fromDay, zone, feedingDayStartHour).from;
  const to = feedingDaySpan(onDay, zone, feedingDayStartHour).to;
  const within = <Row extends { readonly at: number }>(rows: readonly Row[]) =>
    rows.filter((r) => r.at >= from && r.at < to);
  const window: RecordWindow = {
    from,
    to,
    standing: within(animal.series.weighings).filter((w) => w.standing === "stands for the day"),
    daily: within(animal.series.daily),
  };
  const answers = [
    isItTheScale(analysis, animal, window, change, options.shortfall ?? null),
    isItTheCoat(animal, window),
    isItTheMeal(animal, window),
    isItASwap(analysis, animal, window),
  ];
  return {
    kind: "real-or-not",
    schema: 1,
    value: {
      animalId: animal.animalId,
      from: fromDay,
      to: onDay,
      answers,
      conclusion: concludeReal(animal.animalId, answers),
      repeatedLooks: notice("real-looked-again", "info", { animal: animal.animalId }),
    },
    method: {
      name: "The records of the window looked through for what would imitate a slow gain",
      options: { from: fromDay, to: onDay, beforeChangeD, movedBy },
      citations: [],
    },
    basis: { used: window.standing.length, leftOut: [], of: "weighings that stand for a day" },
    diagnostics: {},
    notices: [],
  };
}

/** What the four answers come to. */
export function concludeReal(animal: string, answers: readonly RealAnswer[]): Notice {
  const of = (verdict: RealAnswer["verdict"]) =>
    answers.filter((a) => a.verdict === verdict).map((a) => a.question);
  const found = of("found");
  const open = of("cannot be told");
  const code =
    found.length > 0 ? "real-found" : open.length > 0 ? "real-open" : "real-nothing-found";
  return notice(code, found.length > 0 ? "problem" : "info", {
    animal,
    found,
    open,
    clear: of("not found"),
  });
}

/** Whether wet weighings make the gain what it is. */
function isItTheCoat(animal: AnimalAnalysis, window: RecordWindow): RealAnswer {
  const { standing } = window;
  const told = standing.filter((w) => w.row.coat !== null);
  const wet = told.filter((w) => w.row.coat !== "dry");
  const evidence = {
    weighings: standing.length,
    notTold: standing.length - told.length,
    dampOrWet: wet.length,
  };
  const parameters = { animal: animal.animalId, ...evidence, told: told.length };
  if (standing.length === 0 || told.length < standing.length / 2) {
    return {
      question: "coat",
      verdict: "cannot be told",
      sentences: [notice("real-coat-not-told", "caution", parameters)],
      evidence,
    };
  }
  if (wet.length === 0) {
    return {
      question: "coat",
      verdict: "not found",
      sentences: [notice("real-coat-dry", "info", parameters)],
      evidence,
    };
  }
  const { outcome, gains, verdict, numbers } = without(window, (w) => w.row.coat !== "dry");
  return {
    question: "coat",
    verdict,
    sentences: [notice(`real-coat-${outcome}`, levelOf[outcome], { ...parameters, ...numbers })],
    evidence: { ...evidence, ...gains },
  };
}

/** Whether the time since the last feed makes the gain what it is. */
function isItTheMeal(animal: AnimalAnalysis, window: RecordWindow): RealAnswer {
  const { standing } = window;
  const told = standing.filter((w) => w.row.meal !== "unknown");
  const after = told.filter((w) => w.row.meal === "after");
  const feeds = animal.series.feeds.filter((f) => f.at >= window.from - dayMs && f.at < window.to);
  const hours = standing.flatMap((w) => {
    const last = feeds.filter((f) => f.at <= w.at).at(-1);
    return last === undefined ? [] : [(w.at - last.at) / hourMs];
  });
  const half = Math.ceil(hours.length / 2);
  const evidence = {
    weighings: standing.length,
    notTold: standing.length - told.length,
    afterMeal: after.length,
    hoursSinceFeedEarly: median(hours.slice(0, half)),
    hoursSinceFeedLate: median(hours.slice(half)),
    usualFeedG: median(feeds.flatMap((f) => f.eatenG ?? [])),
  };
  const parameters = {
    animal: animal.animalId,
    told: told.length,
    ...evidence,
    early: evidence.hoursSinceFeedEarly,
    late: evidence.hoursSinceFeedLate,
    feed: evidence.usualFeedG,
    share:
      evidence.usualFeedG === null || animal.last === null
        ? null
        : (100 * evidence.usualFeedG) / animal.last.massG,
    hours: hours.length,
  };
  if (standing.length === 0 || (told.length < standing.length / 2 && hours.length < 4)) {
    return {
      question: "meal",
      verdict: "cannot be told",
      sentences: [notice("real-meal-not-told", "caution", parameters)],
      evidence,
    };
  }
  const timing = hours.length >= 4 ? [notice("real-meal-hours", "info", parameters)] : [];
  if (after.length === 0 && told.length >= standing.length / 2) {
    return {
      question: "meal",
      verdict: "not found",
      sentences: [notice("real-meal-before", "info", parameters), ...timing],
      evidence,
    };
  }
  if (told.length < standing.length / 2) {
    return {
      question: "meal",
      verdict: "cannot be told",
      sentences: [notice("real-meal-not-told", "caution", parameters), ...timing],
      evidence,
    };
  }
  const { outcome, gains, verdict, numbers } = without(window, (w) => w.row.meal === "after");
  return {
    question: "meal",
    verdict,
    sentences: [
      notice(`real-meal-${outcome}`, levelOf[outcome], { ...parameters, ...numbers }),
      ...timing,
    ],
    evidence: { ...evidence, ...gains },
  };
}

const levelOf = { "no-rest": "caution", moves: "caution", "does-not-move": "info" } as const;

/** The gain over the window with and without the weighings in question. */
function without(window: RecordWindow, unusual: (w: NetWeighing) => boolean) {
  const left = new Set(window.standing.filter(unusual).map((w) => w.at));
  const days = (window.to - window.from) / dayMs + 1;
  const gainOf = (rows: readonly DailyMass[]) =>
    gainOverWindow(rows, { days, minimumWeighings: 3, minimumSpan: 0.3 }).gain;
  const all = gainOf(window.daily);
  const rest = gainOf(window.daily.filter((d) => !left.has(d.at)));
  const numbers = {
    all: all.value,
    rest: rest.value,
    left: left.size,
    kept: window.daily.length - left.size,
  };
  const gains = { gainAllGPerD: all.value, gainWithoutGPerD: rest.value };
  if (all.value === null || rest.value === null)
    return { outcome: "no-rest", verdict: "cannot be told", numbers, gains } as const;
  // A real difference moves the gain by more than its own error, and by a good part of it.
  const moved =
    rest.value - all.value > Math.max(2 * (rest.se ?? 0), movedBy * Math.abs(rest.value));
  return moved
    ? ({ outcome: "moves", verdict: "found", numbers, gains } as const)
    : ({ outcome: "does-not-move", verdict: "not found", numbers, gains } as const);
}
