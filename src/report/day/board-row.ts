import type { AnimalAnalysis, StudyAnalysis } from "../../analysis/study-analysis.js";
import { noticeText } from "../../core/catalogue.js";
import type { AnimalLevel } from "../../flags/levels/level.js";
import type { AnimalShift } from "../../planning/plan-shift.js";
import { addDays, daysBetween } from "../../units/calendar.js";
import { screenWording } from "../../units/format.js";
import { formatInterval, formatMass } from "../../units/format-measured.js";
import { hourMs } from "../../units/hour-ms.js";
import type {
  BoardCell,
  BoardRow,
  EatenMark,
  GainMark,
  MassMark,
  TemperatureMark,
} from "../section/board.js";
import { say } from "../section/say.js";
import { signText } from "../section/sign-text.js";
import { momentWords, nextActs } from "./act-words.js";
import { ageAndPhase } from "./age-and-phase.js";
import { askedLines, leftToday } from "./asked-lines.js";
import { eatenInFast } from "./eaten-in-fast.js";
import { graveOrders } from "./grave-orders.js";
import { reasonWords } from "./reason-words.js";

/** Days before the day itself in the mass picture: three weeks. */
export const shownDays = 20;
/** A sign is the newest of its kind only for so long. */
const signHours = 48;

/** One animal's line on the day's board. */
export function boardRow(
  analysis: StudyAnalysis,
  animal: AnimalAnalysis,
  level: AnimalLevel,
  shift: AnimalShift | null,
  until: number,
  href: string | null,
): BoardRow {
  const { zone } = analysis.settings;
  const { species, sex } = animal.series.animal;
  return {
    animalId: animal.animalId,
    name: animal.name,
    href,
    facts: [
      `${species}, ${sex === "unknown" ? "sex unknown" : sex}`,
      ageAndPhase(analysis.onDay, zone, animal),
    ],
    level: level.level,
    why: whyWords(analysis, animal, level, until, graveOrders(shift, zone)),
    next: [...nextActs(level, zone), ...orderedWords(shift)],
    mass: massCell(analysis, animal, until),
    gain: gainCell(analysis, animal),
    eaten: eatenCell(animal, shift, until),
    signs: signsCell(animal, until, zone),
  };
}

/** The gravest reason first; every other danger, question and instruction stands under it. */
function whyWords(
  analysis: StudyAnalysis,
  animal: AnimalAnalysis,
  level: AnimalLevel,
  until: number,
  orders: readonly string[],
): string[] {
  const { zone } = analysis.settings;
  const { reasons, instructions } = reasonWords(animal, level, zone);
  const { possible, of } = level.checks;
  const calm =
    reasons.length === 0
      ? [say(possible === 0 ? "day-no-checks" : "day-checks", { possible, of })]
      : [];
  const asked = askedLines(analysis, animal, until).map((words) => say("day-ask", { words }));
  const left = leftToday(analysis, animal).map((words) => say("day-ask", { words }));
  // Why the animal stands here stands before what must be asked about its order.
  return [...new Set([...left, ...reasons, ...orders, ...calm, ...instructions, ...asked])];
}

/** What is ordered, in short, at every level; the hand-over and the sheet have it in full. */
function orderedWords(shift: AnimalShift | null): BoardRow["next"] {
  const lines = (shift?.order.lines ?? []).map(({ short, doubted }) =>
    say("day-ordered-line", { line: short, doubted }),
  );
  return lines.length === 0 ? [] : [{ when: say("day-ordered"), act: `${lines.join("; ")}.` }];
}

function massCell(
  analysis: StudyAnalysis,
  { series, animalId }: AnimalAnalysis,
  until: number,
): BoardCell<MassMark> {
  const { zone } = analysis.settings;
  const from = addDays(analysis.onDay, -shownDays);
  const dayOf = (day: string) => daysBetween(from, day);
  const points = series.daily
    .filter((d) => d.feedingDay >= from)
    .map((d) => ({ day: dayOf(d.feedingDay), massG: d.massG }));
  const course = analysis.flags.value.courses.find((c) => c.animalId === animalId);
  const expected = (course?.days ?? []).map((d) => ({
    day: dayOf(d.day),
    massG: d.massG,
    lowG: d.lowG,
    highG: d.highG,
  }));
  const last = series.daily.at(-1);
  const newest = series.weighings.filter((w) => w.slip !== null && w.netG !== null).at(-1);
  const doubted =
    newest !== undefined && newest.at > (last?.at ?? 0) && newest.feedingDay >= from
      ? newest
      : null;
  const at = doubted?.at ?? last?.at;
  const fed = series.feeds.filter((f) => f.at <= until).at(-1);
  const mark =
    points.length + expected.length === 0 && doubted === null
      ? null
      : {
          days: shownDays,
          points,
          expected,
          doubted:
            doubted === null ? null : { day: dayOf(doubted.feedingDay), massG: doubted.netG! },
        };
  const value =
    doubted !== null
      ? say("day-in-doubt", { mass: formatMass(doubted.netG!) })
      : last === undefined
        ? say("day-not-weighed")
        : formatMass(last.massG);
  const small =
    at === undefined
      ? []
      : [
          say("day-weighed", {
            weighed: momentWords(at, until, zone),
            fed: fed === undefined ? null : momentWords(fed.at, until, zone),
          }),
        ];
  return { mark, value, small };
}

function gainCell(analysis: StudyAnalysis, animal: AnimalAnalysis): BoardCell<GainMark> {
  const { gain, relative } = animal.gain.recent;
  const { value } = relative;
  if (value === null || gain.value === null) {
    const why =
      relative.why === undefined
        ? []
        : [noticeText(relative.why, screenWording(analysis.settings.zone))];
    return { mark: null, value: say("day-no-gain"), small: why };
  }
  const ends = (m: typeof gain) => [m.interval?.lower ?? null, m.interval?.upper ?? null] as const;
  const [low, high] = ends(relative);
  const perDay = formatInterval(gain.value, ...ends(gain), "g/d");
  const percent = formatInterval(value, low, high, "%/d");
  const last = animal.last?.feedingDay ?? analysis.onDay;
  const others = animal.z?.gain.others ?? [];
  const nineInTen = animal.z?.gain.nineInTen ?? null;
  return {
    mark: { value, low, high, nineInTen, others },
    value: `${perDay.value} g/d`,
    small: [
      `${percent.value} %/d (${percent.range})`,
      ...(last < analysis.onDay ? [say("day-gain-up-to", { day: last })] : []),
    ],
  };
}

function eatenCell(
  { series, phase }: AnimalAnalysis,
  shift: AnimalShift | null,
  until: number,
): BoardCell<EatenMark> {
  const fed = series.feeds.filter((f) => f.at > until - 24 * hourMs && f.at <= until);
  const sum = (of: (f: (typeof fed)[number]) => number) => fed.reduce((a, f) => a + of(f), 0);
  const grams =
    fed.length === 0
      ? say("day-no-feed")
      : say("day-eaten-grams", {
          low: Math.round(sum((f) => f.eatenLowG)),
          high: Math.round(sum((f) => f.eatenHighG)),
        });
  const compared = shift?.compared ?? "no plan";
  if (shift?.order.state === "nothing by mouth")
    return { mark: null, value: say("day-nil"), small: [grams] };
  if (typeof compared === "string") {
    const why =
      compared === "no plan"
        ? shift?.order.state === "ordered"
          ? []
          : [say("day-no-order")]
        : [say(compared === "part of the time" ? "day-order-part" : "day-order-not-summed")];
    return { mark: null, value: grams, small: why };
  }
  const { least, most, planned, unit } = compared;
  const percent = (x: number) => Math.round((100 * x) / planned);
  const [lowPct, highPct] = [percent(least), percent(most)];
  const whole = {
    least: Math.round(least),
    most: Math.round(most),
    planned: Math.round(planned),
    unit,
  };
  return {
    mark: { lowPct, highPct },
    value: say("day-eaten", { lowPct, highPct }),
    small: [say("day-eaten-of", whole), ...eatenInFast(phase, compared, "in short")],
  };
}

/** Kinds that are always worth a line, found or not. */
const output = new Set(["stool", "urine"]);
const incidents = new Set([
  "vomit",
  "regurgitation",
  "bloat",
  "blood",
  "convulsion",
  "behaviour",
  "suckle",
  "hydration",
  "medication",
  "fluids",
  "exam",
  "glucose",
]);

function signsCell(
  animal: AnimalAnalysis,
  until: number,
  zone: string,
): BoardCell<TemperatureMark> {
  const signs = animal.series.signs.filter(
    (s) => s.at <= until && s.at > until - signHours * hourMs,
  );
  const moment = (at: number) => momentWords(at, until, zone);
  const read = signs.filter((s) => s.kind === "temperature").at(-1) ?? null;
  const judged = [...(animal.day?.raised ?? []), ...(animal.day?.within ?? [])].find(
    (s) => s.kind === "temperature",
  );
  const limits =
    judged?.kind === "temperature"
      ? ([judged.evidence.lowC, judged.evidence.highC] as const)
      : null;
  const newest = new Map<string, (typeof signs)[number]>();
  for (const s of signs) {
    if (s.kind === "temperature") continue;
    if (
      output.has(s.kind) ||
      (incidents.has(s.kind) && s.state !== "none") ||
      s.findings.length > 0 ||
      s.state === "unclear"
    )
      newest.set(s.kind, s);
  }
  const lines = [...newest.values()]
    .sort((a, b) => b.at - a.at)
    .slice(0, 3)
    .map((s) => {
      const words = signText(s);
      const what = words === "" ? s.kind : `${s.kind}: ${words}`;
      return say("day-sign", { what, when: moment(s.at) });
    });
  return {
    mark:
      read?.measure == null || limits === null
        ? null
        : { low: read.measure.low, high: read.measure.high, limits },
    value:
      read === null
        ? say("day-no-temperature")
        : say("day-sign", { what: signText(read), when: moment(read.at) }),
    small: lines.length === 0 ? [say("day-no-signs")] : lines,
  };
}
