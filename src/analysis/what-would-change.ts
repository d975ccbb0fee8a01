import { type Notice, notice } from "../core/notice.js";
import type { Result } from "../core/result.js";
import { runSteps, type Steps } from "../core/steps.js";
import { defaultEpisodeRule } from "../flags/animal-day/episode-rule.js";
import { judgedSignal } from "../flags/animal-day/judged-signals.js";
import { signalClassOf } from "../flags/animal-day/signal-class-of.js";
import { allowedCheckErrorG } from "../flags/rules/known-weight-check.js";
import { defaultRuleLimits } from "../flags/rules/rule-limits.js";
import type { CivilDate } from "../series/animal-series.js";
import { conditionErrors, scaleErrorG } from "../series/condition.js";
import { addDays } from "../units/calendar.js";
import { type ChangeOfGain, changeOfGain } from "./change-of-gain.js";
import { type ExpectedWeek, expectedWeek } from "./expected-week.js";
import type { Shortfall } from "./real-answer.js";
import type { AnimalAnalysis, StudyAnalysis } from "./study-analysis.js";
import { flagCloser } from "./when-flag-closes.js";

/** A finding of the next days that would change the picture, with its numbers. */
export type DecisiveFinding = {
  [Finding in keyof EvidenceByFinding]: {
    readonly finding: Finding;
    readonly sentence: Notice;
    readonly evidence: EvidenceByFinding[Finding];
  };
}[keyof EvidenceByFinding];

/** The numbers behind each finding; a mass is meant on its day. */
export interface EvidenceByFinding {
  /** The danger signals that stand, or the gain where it is losing mass. */
  readonly "danger now": { readonly signals: string } | { readonly gainGPerD: number };
  readonly "lighter than its course": {
    readonly nextDay: CivilDate;
    readonly nextMassG: number;
    readonly day: CivilDate;
    readonly massG: number;
  };
  readonly "heavier than its course": { readonly day: CivilDate; readonly massG: number };
  readonly "the two courses apart": {
    readonly day: CivilDate;
    readonly ownG: number;
    readonly othersG: number;
    readonly apart: "yes" | "no";
  };
  readonly "flag closes": FlagClosesEvidence;
  readonly "known-weight check": {
    readonly scale: string;
    readonly knownG: number;
    readonly offG: number;
    readonly shortfallG: number;
  };
  readonly "second scale": { readonly scale: string; readonly differenceG: number };
  readonly "eaten without gain": {
    readonly days: number;
    readonly day: CivilDate;
    readonly gainGPerD: number;
    readonly leastGainGPerD: number;
    /** In `unit`, as is `eaten`; null where no plan can be compared. */
    readonly planned: number | null;
    readonly eaten: number | null;
    readonly unit: "g" | "kcal";
  };
}

export interface FlagClosesEvidence {
  /** The day on which it closes, or by which the mass must be reached. */
  readonly day?: CivilDate;
  readonly massG?: number;
  readonly gainGPerD?: number;
  /** Where no gain of the week closes it: the day at the contemporaries' gain, and the most that was tried. */
  readonly atContemporariesGain?: CivilDate | null;
  readonly mostGainGPerD?: number;
}

export interface WhatWouldChange {
  readonly animalId: string;
  readonly findings: readonly DecisiveFinding[];
}

export interface WhatWouldChangeOptions {
  readonly week?: ExpectedWeek;
  readonly change?: ChangeOfGain;
  /** Grams missing since a day, for what a check of the scale would have to show. */
  readonly shortfall?: Shortfall | null;
}

const nothingPlanned = { unit: "kcal", planned: null, eaten: null } as const;

/** How far ahead the flag is followed at the contemporaries' gain, days. */
const laterD = 35;
/** Halvings of the range of gains in which the closing one is looked for. */
const halvings = 4;

/**
 * Which findings of the next days would change the picture, each computed from
 * the records: a mass below or above what its own course allows, the day on which
 * its own course and that of its contemporaries can be told apart, the gain that
 * would close the flag (the flags replayed on invented weighings), the error of a
 * known-weight check that would explain the shortfall, the difference of a second
 * scale that would doubt the first, and how many days of full eaten without gain
 * would point beyond intake. They are findings to bring to the veterinarian, not
 * decisions.
 *
 * @example whatWouldChange(analysis, animal).value.findings[0].evidence.massG // 2890
 */
export function whatWouldChange(
  analysis: StudyAnalysis,
  animal: AnimalAnalysis,
  options: WhatWouldChangeOptions = {},
): Result<"what-would-change", WhatWouldChange> {
  return runSteps(whatWouldChangeSteps(analysis, animal, options));
}

/** The steps of `whatWouldChange`: each replay on invented weighings is one. */
export function* whatWouldChangeSteps(
  analysis: StudyAnalysis,
  animal: AnimalAnalysis,
  options: WhatWouldChangeOptions,
): Steps<Result<"what-would-change", WhatWouldChange>> {
  const week = options.week ?? expectedWeek(analysis, animal).value;
  const change = options.change ?? changeOfGain(analysis, animal).value;
  const findings = [
    ...dangerNow(animal),
    ...massFindings(week),
    ...(yield* closing(analysis, animal, week)),
    ...scaleFindings(analysis, animal, change, options.shortfall ?? null),
    ...intakeFinding(animal, week),
  ];
  return {
    kind: "what-would-change",
    schema: 1,
    value: { animalId: animal.animalId, findings },
    method: {
      name: "Limits of the expected week; flags replayed on invented weighings; stated errors",
      options: { onDay: analysis.onDay, halvings, episodeRule: { ...defaultEpisodeRule } },
      citations: [],
    },
    basis: { used: week.days.length, leftOut: [], of: "days ahead" },
    diagnostics: {},
    notices: week.refused === null ? [] : [week.refused],
  };
}

/** Danger rules that stand today go before anything that waits for a weighing. */
function dangerNow(animal: AnimalAnalysis): DecisiveFinding[] {
  const raised = (animal.day?.raised ?? []).filter((s) => s.class === "danger");
  if (raised.length === 0) return [];
  const signals = raised.map((s) => s.kind);
  return [
    {
      finding: "danger now",
      sentence: notice("decisive-now", "problem", { animal: animal.animalId, signals }),
      evidence: { signals: signals.join(", ") },
    },
  ];
}

function massFindings(week: ExpectedWeek): DecisiveFinding[] {
  const next = week.days[0];
  const end = week.days.at(-1);
  if (next === undefined || end === undefined) return [];
  const id = { animal: week.animalId };
  const low = {
    ...id,
    soon: next.ownCourse.lower95G,
    soonDay: next.feedingDay,
    mass: end.ownCourse.lower95G,
    day: end.feedingDay,
  };
  const gain = week.ownCourse.gain.value;
  const high = { ...id, mass: end.ownCourse.upper95G, day: end.feedingDay, gain };
  const losing: DecisiveFinding[] =
    gain === null || gain >= 0
      ? []
      : [
          {
            finding: "danger now",
            sentence: notice("decisive-losing", "problem", { ...id, loss: -gain }),
            evidence: { gainGPerD: gain },
          },
        ];
  const out: DecisiveFinding[] = [
    ...losing,
    {
      finding: "lighter than its course",
      sentence: notice("decisive-lighter", "info", low),
      evidence: { nextDay: low.soonDay, nextMassG: low.soon, day: low.day, massG: low.mass },
    },
    {
      finding: "heavier than its course",
      sentence: notice("decisive-heavier", "info", high),
      evidence: { day: high.day, massG: high.mass },
    },
  ];
  if (end.asTheOthers === null) return out;
  const faster = end.asTheOthers.massG > end.ownCourse.massG;
  const apart = week.days.find((d) =>
    faster
      ? d.asTheOthers!.lower80G > d.ownCourse.upper80G
      : d.asTheOthers!.upper80G < d.ownCourse.lower80G,
  );
  const shown = apart ?? end;
  const p = {
    ...id,
    day: shown.feedingDay,
    own: shown.ownCourse.massG,
    ownHigh: faster ? shown.ownCourse.upper80G : shown.ownCourse.lower80G,
    others: shown.asTheOthers!.massG,
    othersLow: faster ? shown.asTheOthers!.lower80G : shown.asTheOthers!.upper80G,
    faster,
  };
  out.push({
    finding: "the two courses apart",
    sentence: notice(
      faster
        ? apart === undefined
          ? "decisive-not-apart"
          : "decisive-apart"
        : "decisive-not-behind",
      "info",
      p,
    ),
    evidence: {
      day: p.day,
      ownG: p.own,
      othersG: p.others,
      apart: apart === undefined ? "no" : "yes",
    },
  });
  return out;
}

/** The least even gain that closes the flag within the week, by replaying the flags. */
function* closing(
  analysis: StudyAnalysis,
  animal: AnimalAnalysis,
  week: ExpectedWeek,
): Steps<DecisiveFinding[]> {
  const episode = animal.day?.episode ?? null;
  if (episode === null || week.days.length === 0) return [];
  const id = { animal: animal.animalId };
  const fromWeighings = episode.signals.some((s) => signalClassOf(s.kind) === "statistical");
  if (!fromWeighings) {
    return [
      {
        finding: "flag closes",
        sentence: notice("decisive-flag-by-rules", "info", {
          ...id,
          signals: episode.signals.map((s) => s.kind),
          days: defaultEpisodeRule.quietDays,
        }),
        evidence: {},
      },
    ];
  }
  const levelG = week.level.value!;
  const aheadD = week.days.length;
  const own = (week.ownCourse.relative.value ?? 0) / 100;
  const others = week.days.at(-1)!.asTheOthers;
  // The upper 95 % limit of what contemporaries gain, or of its own course without any.
  const top = others === null ? week.days.at(-1)!.ownCourse.upper95G : others.upper95G;
  const most = Math.max(own, Math.log(top / levelG) / aheadD);
  const closes = flagCloser(analysis, animal);
  const at = (slope: number) => closes({ levelG, slope, aheadD });
  const end = addDays(analysis.onDay, aheadD);
  // A gain that is itself too fast keeps the flag open, so gains in between are tried too.
  yield;
  let best = at(most);
  let closing = most;
  for (const share of [2 / 3, 1 / 3]) {
    if (best.closesOn !== null) break;
    closing = own + share * (most - own);
    yield;
    best = at(closing);
  }
  if (best.closesOn === null) {
    const theirs = (week.asTheOthers?.relative.value ?? 0) / 100;
    yield;
    const later = theirs <= 0 ? null : closes({ levelG, slope: theirs, aheadD: laterD }).closesOn;
    return [
      {
        finding: "flag closes",
        sentence: notice("decisive-flag-stays", "info", {
          ...id,
          day: end,
          mass: levelG * Math.exp(most * aheadD),
          gain: (levelG * Math.expm1(most * aheadD)) / aheadD,
          others: others !== null,
          later,
          theirs: week.asTheOthers?.gain.value ?? null,
        }),
        evidence: {
          atContemporariesGain: later,
          mostGainGPerD: (levelG * Math.expm1(most * aheadD)) / aheadD,
        },
      },
    ];
  }
  yield;
  const asItIs = at(own);
  if (asItIs.closesOn !== null) {
    return [
      {
        finding: "flag closes",
        sentence: notice("decisive-flag-closes-anyway", "info", {
          ...id,
          day: asItIs.closesOn,
          gain: week.ownCourse.gain.value,
        }),
        evidence: { day: asItIs.closesOn },
      },
    ];
  }
  let low = own;
  let high = closing;
  for (let i = 0; i < halvings; i++) {
    const middle = (low + high) / 2;
    yield;
    const tried = at(middle);
    if (tried.closesOn === null) low = middle;
    else {
      high = middle;
      best = tried;
    }
  }
  const mass = levelG * Math.exp(high * aheadD);
  return [
    {
      finding: "flag closes",
      sentence: notice("decisive-flag-closes", "info", {
        ...id,
        day: best.closesOn,
        end,
        mass,
        gain: (mass - levelG) / aheadD,
        days: defaultEpisodeRule.daysBelow,
      }),
      evidence: { massG: mass, day: end, gainGPerD: (mass - levelG) / aheadD },
    },
  ];
}

function scaleFindings(
  analysis: StudyAnalysis,
  animal: AnimalAnalysis,
  change: ChangeOfGain,
  shortfall: Shortfall | null,
): DecisiveFinding[] {
  const last = animal.series.weighings.filter((w) => w.standing === "stands for the day").at(-1);
  const scale = last?.row.scaleId ?? null;
  if (last === undefined || scale === null || last.netG === null) return [];
  const out: DecisiveFinding[] = [];
  const short = shortfall?.grams ?? null;
  const check = analysis.series.scaleChecks.filter((c) => c.scaleId === scale).at(-1) ?? null;
  const fasted = change.sentences.some((s) => s.code === "change-fast");
  if (short !== null && short > 0 && !fasted) {
    const knownG = check?.knownG ?? Math.round(last.row.massG / 500) * 500;
    // A scale that reads low by a share shows load x (1 - share): the share that hides the shortfall.
    const off = (knownG * short) / (last.row.massG + short);
    const p = {
      animal: animal.animalId,
      scale,
      known: knownG,
      off,
      share: (100 * off) / knownG,
      allowed: allowedCheckErrorG(knownG),
      shortfall: short,
      since: shortfall?.since ?? null,
      last: check?.at ?? null,
      lastOff: check === null ? null : check.readingG - check.knownG,
    };
    out.push({
      finding: "known-weight check",
      sentence: notice(
        off < allowedCheckErrorG(knownG) ? "decisive-check-small" : "decisive-check",
        "info",
        p,
      ),
      evidence: { scale, knownG, offG: off, shortfallG: short },
    });
  }
  const e = scaleErrorG(last.row, analysis.settings);
  const z = defaultRuleLimits.scalesZ ?? 4;
  // The other scale taken to be as good as this one.
  const difference = z * Math.hypot(e, e, conditionErrors.usual * last.netG);
  out.push({
    finding: "second scale",
    sentence: notice("decisive-second-scale", "info", {
      animal: animal.animalId,
      scale,
      difference,
      hours: defaultRuleLimits.scalesWithinH,
    }),
    evidence: { scale, differenceG: difference },
  });
  return out;
}

/**
 * Days of daily weighings after which a gain like the contemporaries' is told from
 * half of it (twice the standard error of a slope over so many days): only then
 * does full eaten without gain say anything.
 */
function intakeFinding(animal: AnimalAnalysis, week: ExpectedWeek): DecisiveFinding[] {
  const gain = week.asTheOthers?.gain.value ?? null;
  const scatter = week.scatterG;
  if (gain === null || gain <= 0 || scatter === null) return [];
  let days = 2;
  const slopeSe = (n: number) => scatter * Math.sqrt(12 / (n * (n + 1) * (n + 2)));
  while (days < 21 && 2 * slopeSe(days) > gain / 2) days++;
  const plan = judgedSignal(animal.day, "eaten below plan");
  const { unit, planned, eaten } = plan?.evidence ?? nothingPlanned;
  const day = addDays(week.lastDay, days);
  const least = Math.max(0, gain - 2 * slopeSe(days));
  const p = {
    animal: animal.animalId,
    days,
    day,
    gain,
    least,
    mass: week.level.value! + least * days,
    planned,
    eaten,
    unit,
    share: planned === null || eaten === null ? null : (100 * eaten) / planned,
  };
  const code =
    planned === null
      ? "decisive-intake-no-plan"
      : (p.share ?? 0) >= 95
        ? "decisive-intake-already"
        : "decisive-intake";
  return [
    {
      finding: "eaten without gain",
      sentence: notice(code, "info", p),
      evidence: { days, day, gainGPerD: gain, leastGainGPerD: least, planned, eaten, unit },
    },
  ];
}
