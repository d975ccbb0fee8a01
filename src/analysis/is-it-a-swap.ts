import { type Notice, notice } from "../core/notice.js";
import { conditionErrors, weighingError } from "../series/condition.js";
import { dayMs } from "../units/day-ms.js";
import { type CourseRow, courseAt, courseRows } from "./course-at.js";
import type { RealAnswer, RecordWindow } from "./real-answer.js";
import type { AnimalAnalysis, StudyAnalysis } from "./study-analysis.js";

/** The newest days that are held against another animal's, from the fewest to the most, and the course before them. */
const newestD = [3, 4, 5, 6, 7, 8, 9, 10, 12] as const;
const courseD = 14;
/** Exchanged, the weighings must fit better by this much of squared standard errors ... */
const better = 12;
/** ... each of the two animals by this much in its first so many weighings, ... */
const betterEach = 6;
const atOnce = 3;
/** ... and leave no more than this share of the misfit, or neither way fits. */
const fitsUpTo = 0.4;
/** A course that ended longer before the newest days is not carried on. */
const freshD = 4;
/** Squared standard errors beyond which a single reading counts no further. */
const most = 16;

/**
 * Were two animals exchanged? Suspected exchanges of single weighings are named;
 * and the newest days, from 3 to 12 of them, are held against every other animal of
 * the species weighed in them: both courses up to then are carried on, and the weighings as written are
 * compared with the weighings exchanged, in squared standard errors.
 */
export function isItASwap(
  analysis: StudyAnalysis,
  animal: AnimalAnalysis,
  window: RecordWindow,
): RealAnswer {
  const id = animal.animalId;
  const slips = analysis.records.slips.filter(
    ({ animalId, weighing }) =>
      weighing.slip?.kind === "animals swapped" &&
      weighing.at >= window.from &&
      weighing.at < window.to &&
      (animalId === id || weighing.slip.otherAnimalId === id),
  );
  const sentences: Notice[] = slips.map(({ animalId, weighing }) =>
    notice("real-swap-suspected", "problem", {
      animal: animalId,
      other: weighing.slip?.otherAnimalId ?? null,
      at: weighing.at,
      mass: weighing.netG,
    }),
  );
  const own = readings(analysis, animal, window);
  const cuts = newestD.map((d) => ({ days: d, cut: window.to / dayMs - d }));
  const others = analysis.animals.filter(
    (a) => a !== animal && a.species === animal.species && a.inCare,
  );
  const compared = others.flatMap((other) => {
    const rows = readings(analysis, other, window);
    const each = cuts.flatMap(({ days, cut }) => {
      const result = exchange(own, rows, cut);
      return result === null ? [] : [{ id: other.animalId, days, ...result }];
    });
    if (each.length === 0) return [];
    // Since when they may have been exchanged is not known: the days that fit best.
    return [each.reduce((a, b) => (b.asWritten - b.exchanged > a.asWritten - a.exchanged ? b : a))];
  });
  const counted = { suspected: slips.length, compared: compared.length };
  if (compared.length === 0) {
    const nobody = others.length === 0;
    sentences.push(
      notice(nobody ? "real-swap-nobody" : "real-swap-no-common-days", "info", {
        animal: id,
        n: others.length,
        days: newestD[0],
      }),
    );
    const verdict = slips.length > 0 ? "found" : nobody ? "not found" : "cannot be told";
    return { question: "swap", verdict, sentences, evidence: counted };
  }
  const fits = (c: (typeof compared)[number]) =>
    c.asWritten - c.exchanged > better &&
    c.leastGain > betterEach &&
    c.exchanged <= fitsUpTo * c.asWritten;
  const exchanged = compared.filter(fits).sort((a, b) => a.exchanged - b.exchanged)[0];
  // Where none fits, the one nearest in mass is named.
  const best =
    exchanged ?? compared.reduce((a, b) => (Math.abs(b.apart) < Math.abs(a.apart) ? b : a));
  const found = exchanged !== undefined;
  sentences.push(
    notice(found ? "real-swap-fits-better" : "real-swap-fits-worse", found ? "problem" : "info", {
      animal: id,
      other: best.id,
      n: compared.length,
      days: best.days,
      weighings: best.weighings,
      difference: 100 * Math.abs(Math.expm1(best.apart)),
      written: best.asWritten,
      exchanged: best.exchanged,
    }),
  );
  return {
    question: "swap",
    verdict: found || slips.length > 0 ? "found" : "not found",
    sentences,
    evidence: {
      ...counted,
      nearest: best.id,
      asWritten: best.asWritten,
      exchanged: best.exchanged,
    },
  };
}

interface Readings {
  /** The weighed days that stand, for the course. */
  readonly days: readonly CourseRow[];
  /** Every weighing with a net mass, suspected slips included: an exchange looks like one. */
  readonly all: readonly CourseRow[];
}

function readings(analysis: StudyAnalysis, animal: AnimalAnalysis, window: RecordWindow): Readings {
  return {
    days: courseRows(animal).filter((r) => r.time < window.to / dayMs),
    all: animal.series.weighings
      .filter((w) => w.netG !== null && w.netG > 0 && w.at < window.to)
      .map((w) => ({
        time: w.at / dayMs,
        logMass: Math.log(w.netG!),
        error: weighingError(w.row, w.netG!, analysis.settings) / w.netG!,
      })),
  };
}

/**
 * Squared standard errors of both animals' newest weighings about their own
 * courses before `cut`, as written and exchanged. One reading counts for no more
 * than 16, so that a single slip decides nothing.
 */
function exchange(own: Readings, other: Readings, cut: number) {
  const mine = before(own.days, cut);
  const theirs = before(other.days, cut);
  const newest = own.all.filter((r) => r.time >= cut);
  const othersNewest = other.all.filter((r) => r.time >= cut);
  if (mine === null || theirs === null || newest.length < 2 || othersNewest.length < 2) return null;
  const misfit = (rows: readonly CourseRow[], of: typeof mine) =>
    rows.reduce((total, r) => total + Math.min(most, of.misfit(r)), 0);
  // An exchange steps both courses at once, a gain that changed parts slowly from its own.
  const first = newest.slice(0, atOnce);
  const othersFirst = othersNewest.slice(0, atOnce);
  return {
    asWritten: misfit(newest, mine) + misfit(othersNewest, theirs),
    exchanged: misfit(newest, theirs) + misfit(othersNewest, mine),
    leastGain: Math.min(
      misfit(first, mine) - misfit(first, theirs),
      misfit(othersFirst, theirs) - misfit(othersFirst, mine),
    ),
    weighings: newest.length + othersNewest.length,
    apart: othersNewest.at(-1)!.logMass - newest.at(-1)!.logMass,
  };
}

function before(rows: readonly CourseRow[], cut: number) {
  const known = rows.filter((r) => r.time < cut);
  const last = known.at(-1);
  const course = last === undefined ? null : courseAt(known, known.length - 1, courseD);
  if (last === undefined || course === null || cut - last.time > freshD) return null;
  return {
    misfit: (r: CourseRow) => {
      const ahead = r.time - last.time;
      // A gain may change by half a per cent a day in earnest without any exchange.
      const se = Math.hypot(
        course.se(ahead),
        Math.max(r.error, conditionErrors.usual),
        0.005 * ahead,
      );
      return ((r.logMass - course.level - course.slope * ahead) / se) ** 2;
    },
  };
}
