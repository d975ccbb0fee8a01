import { type Measured, measured, notDefined } from "../../core/measured.js";
import { type Notice, notice } from "../../core/notice.js";
import type { Result } from "../../core/result.js";
import type { AnimalAnalysis, StudyAnalysis } from "../study-analysis.js";
import { convertsPoorly } from "./converts-poorly.js";
import type {
  RivalExplanation,
  RivalExplanations,
  RivalName,
  RivalVerdict,
  SlowGainQuantities,
} from "./explanation.js";
import { fedLessThanOrdered } from "./fed-less-than-ordered.js";
import { illnessSigns } from "./illness-signs.js";
import { cameUp, keptLess } from "./kept-less.js";
import { missingMass } from "./missing-mass.js";
import { orderedTooLittle } from "./ordered-too-little.js";
import { scale } from "./scale.js";
import { sharedCause } from "./shared-cause.js";
import { type CaseFrom, type SlowGainerCase, slowGainerCase } from "./slow-gainer-case.js";
import { smallButHealthy } from "./small-but-healthy.js";
import type { Range } from "./spell.js";
import { swap } from "./swap.js";
import { thinBatch } from "./thin-batch.js";
import { weighingCondition } from "./weighing-condition.js";

/**
 * Every rival, in the order in which those of equal standing are named: what can
 * hurt the animal first, what would excuse its gain last.
 */
const rivals: Readonly<Record<RivalName, (c: SlowGainerCase) => RivalExplanation>> = {
  "illness signs": illnessSigns,
  "kept less": keptLess,
  "thin batch": thinBatch,
  "fed less than ordered": fedLessThanOrdered,
  "ordered too little": orderedTooLittle,
  "shared cause": sharedCause,
  "converts poorly or loses": convertsPoorly,
  scale,
  swap,
  "weighing condition": weighingCondition,
  "small but healthy": smallButHealthy,
};
const names = Object.keys(rivals) as RivalName[];

const rank: Readonly<Record<RivalVerdict, number>> = {
  likely: 0,
  possible: 1,
  "cannot be told": 2,
  "speaks against": 3,
};

/**
 * Why does one animal gain slowly? Every rival explanation with what speaks for
 * it and against it, the leading ones first, and the sentences of "in short",
 * which come from this table alone: one window, one set of contemporaries, one
 * number for each quantity. No diagnosis.
 *
 * @example rivalExplanations(analysis, animal, { change, real, missing }).value.rivals[0].rival // "thin batch"
 */
export function rivalExplanations(
  analysis: StudyAnalysis,
  animal: AnimalAnalysis,
  found: CaseFrom,
): Result<"rival-explanations", RivalExplanations> {
  const c = slowGainerCase(analysis, animal, found);
  const judged = settle(
    c,
    names.map((name) => rivals[name](c)),
  ).sort(
    (a, b) =>
      rank[a.verdict] - rank[b.verdict] ||
      b.weight - a.weight ||
      names.indexOf(a.rival) - names.indexOf(b.rival),
  );
  const headline = headlineOf(c, judged);
  return {
    kind: "rival-explanations",
    schema: 1,
    value: {
      animalId: animal.animalId,
      from: c.from,
      to: c.to,
      days: c.days,
      contemporaries: c.others.map((o) => o.animalId),
      slow: c.deficit.slow,
      quantities: quantitiesOf(c),
      rivals: judged,
      gain: { ...headline, code: "explained-gain" },
      headline,
      inShort: inShort(c, headline, judged),
    },
    method: {
      name: "Each rival judged from the records of one window; leading ones first",
      options: { from: c.from, to: c.to },
      citations: [],
    },
    basis: { used: c.others.length, leftOut: [], of: "contemporaries" },
    diagnostics: { by: c.deficit.by, missingShare: c.deficit.share },
    notices: [],
  };
}

const isSlow = (c: SlowGainerCase) => c.deficit.slow === "slow" || c.deficit.slow === "loses";

/**
 * What one rival makes of another: an ill animal eats less and keeps less, a thin
 * batch slows all who drink it, and a scale that is known to read wrongly leaves
 * nothing of the gain to explain.
 */
function settle(c: SlowGainerCase, all: readonly RivalExplanation[]): RivalExplanation[] {
  const likely = (name: RivalName) => all.some((r) => r.rival === name && r.verdict === "likely");
  // Whom anything speaks for is not called healthy, nor taken for another.
  const standing = (name: RivalName) =>
    all.some(
      (r) =>
        r.rival === name &&
        (r.verdict === "likely" || (r.verdict === "possible" && r.weight > 0.2)),
    );
  const follows: Readonly<Partial<Record<RivalName, readonly RivalName[]>>> = {
    "fed less than ordered": ["illness signs", "shared cause"],
    "ordered too little": ["scale", "shared cause"],
    "kept less": ["illness signs"],
    "shared cause": ["thin batch", "scale"],
    "small but healthy": ["scale", "swap", "weighing condition", ...measuredCauses],
    // What was seen, eaten, ordered or mixed is never set aside for an excuse.
    swap: measuredCauses,
    "weighing condition": measuredCauses,
    "converts poorly or loses": names.filter(
      (n) => n !== "converts poorly or loses" && n !== "small but healthy",
    ),
  };
  const step = c.step !== null && c.step.pct < 0 && c.step.check !== "passed";
  return all.map((r) => {
    if (step && r.rival !== "shared cause" && steppedWith.has(r.rival) && r.verdict === "possible")
      return { ...r, weight: r.weight / 2 };
    if (step && r.verdict === "likely" && steppedWith.has(r.rival)) {
      return {
        ...r,
        verdict: "possible",
        weight: r.rival === "shared cause" ? r.weight : r.weight / 2,
        speaksAgainst: [
          ...r.speaksAgainst,
          notice("rival-may-be-scale", "caution", { scale: c.step!.scale }),
        ],
      };
    }
    const known = excuses.has(r.rival) ? standing : likely;
    const from = (follows[r.rival] ?? []).filter(known);
    if (r.verdict !== "likely" || from.length === 0) return r;
    return {
      ...r,
      verdict: "possible",
      speaksAgainst: [
        ...r.speaksAgainst,
        notice("rival-follows", "info", { animal: c.animal.animalId, from }),
      ],
    };
  });
}

const excuses = new Set<RivalName>(["small but healthy", "swap"]);

const measuredCauses: readonly RivalName[] = [
  "illness signs",
  "kept less",
  "thin batch",
  "fed less than ordered",
  "ordered too little",
];

/** What a step of the scale would imitate; nothing that was seen, ordered, eaten or mixed. */
const steppedWith = new Set<RivalName>([
  "shared cause",
  "converts poorly or loses",
  "small but healthy",
]);

function headlineOf(c: SlowGainerCase, judged: readonly RivalExplanation[]): Notice {
  const likely = judged.filter((r) => r.verdict === "likely").map((r) => r.rival);
  const possible = judged.filter((r) => r.verdict === "possible").map((r) => r.rival);
  const { missing } = c;
  const expected = missing.missing.value === null ? null : missing.expected.gainG / missing.days;
  const p = {
    animal: c.animal.name ?? c.animal.animalId,
    from: c.from,
    // Days that no change begins are counted, so that nobody looks for what happened on the first.
    days: c.fromChange ? null : c.days,
    gain: c.now.gainGPerD,
    expected,
    // What it was found slow by, where that is another number than the contemporaries'.
    ownExpected:
      c.deficit.by === "own earlier gain" && c.deficit.expectedPct !== null && c.now.massG !== null
        ? (c.deficit.expectedPct / 100) * c.now.massG
        : null,
    likely,
    possible: possible.slice(0, 2),
  };
  if (c.fasts) return notice("explained-fast", "info", p);
  if (c.deficit.slow === "cannot be told") return notice("explained-not-told", "caution", p);
  if (isSlow(c)) return notice("explained-slow", "problem", p);
  // The watch over weighings knows more of the gain than two means do.
  if (c.change.raised) return notice("explained-flag-stands", "caution", p);
  return notice("explained-not-slow", "info", p);
}

/** The headline, what is shared, the first sentence of the leading rivals, and what is asked first. */
function inShort(
  c: SlowGainerCase,
  headline: Notice,
  judged: readonly RivalExplanation[],
): Notice[] {
  const leading = judged.filter((r) => r.verdict === "likely" || r.verdict === "possible");
  const likely = leading.filter((r) => r.verdict === "likely");
  // What is only possible is named where nothing is likely.
  const first = isSlow(c)
    ? (likely.length > 0 ? likely : leading).slice(0, 3)
    : leading.slice(0, 1);
  const shared = judged.find((r) => r.rival === "shared cause");
  const sharedFirst = c.fall.shared && shared !== undefined ? shared.speaksFor.slice(0, 1) : [];
  const said = new Set<Notice>([
    headline,
    ...sharedFirst,
    ...first.flatMap((r) => r.speaksFor.slice(0, 1)),
    ...(isSlow(c) ? first.flatMap((r) => r.ask.slice(0, 1)) : []),
  ]);
  return [...said];
}

function quantitiesOf(c: SlowGainerCase): SlowGainQuantities {
  const { missing, now } = c;
  const why = notice("explained-not-written", "info");
  const value = (v: number | null, unit: string, more = {}): Measured =>
    v === null ? notDefined(unit, why) : measured(v, unit, more);
  const range = (r: Range | null, unit: string): Measured =>
    r === null
      ? notDefined(unit, why)
      : r.low === r.high
        ? measured(r.low, unit)
        : { value: null, unit, interval: { lower: r.low, upper: r.high, level: 1 } };
  const pct = (r: Range | null) => (r === null ? null : { low: 100 * r.low, high: 100 * r.high });
  return {
    gain: value(now.gainGPerD, "g/d", now.gainSeGPerD === null ? {} : { se: now.gainSeGPerD }),
    expectedGain: value(
      missing.missing.value === null ? null : missing.expected.gainG / missing.days,
      "g/d",
    ),
    gainBefore: value(c.before?.gainGPerD ?? null, "g/d"),
    missing: missingMass(missing, now, c.before),
    keptKcalPerD: range(now.keptKcal, "kcal/d"),
    expectedKcalPerD: value(missing.expected.keptKcalPerDay, "kcal/d"),
    eatenOfOrderedPct: range(pct(now.eatenOfOrdered), "%"),
    cameUpPct: range(pct(cameUp(c).share), "%"),
  };
}
