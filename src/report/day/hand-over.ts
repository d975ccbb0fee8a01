import type { AnimalAnalysis, StudyAnalysis } from "../../analysis/study-analysis.js";
import { noticeText } from "../../core/catalogue.js";
import type { Notice } from "../../core/notice.js";
import type { AnimalLevel } from "../../flags/levels/level.js";
import type { AnimalShift } from "../../planning/plan-shift.js";
import { screenWording } from "../../units/format.js";
import { formatDate, localText } from "../../units/format-date.js";
import { formatMass } from "../../units/format-measured.js";
import { hourMs } from "../../units/hour-ms.js";
import { animalLabel } from "../section/animal-label.js";
import { say } from "../section/say.js";
import {
  type Block,
  caution,
  list,
  type Section,
  section,
  table,
  text,
} from "../section/section.js";
import { askedLines } from "./asked-lines.js";
import { levelBlocks } from "./level-blocks.js";
import { notComparedCodes } from "./not-compared.js";
import { notToBeFed } from "./not-to-be-fed.js";
import { alertLines, signsOfShift } from "./signs-of-shift.js";

/**
 * What the next shift needs to know of one animal, on one screen: the last 24
 * hours of feeds against the plan, what came out, temperature, mass, treatments,
 * open flags, and what is due next. `until` is an instant; nothing recorded
 * after it is shown.
 */
export function handOverSection(
  analysis: StudyAnalysis,
  animal: AnimalAnalysis,
  until: number,
  plan: AnimalShift | null,
  level: AnimalLevel | null = null,
): Section {
  const { zone } = analysis.settings;
  const from = until - 24 * hourMs;
  const clock = (at: number) => localText(at, zone);
  const feeds = animal.series.feeds.filter((f) => f.at > from && f.at <= until);
  const asked = askedLines(analysis, animal, until);
  const blocks: Block[] = [
    ...(level === null ? [] : levelBlocks(level, zone)),
    ...(asked.length === 0 ? [] : [text(say("asked-title")), list(asked)]),
    list(unsaid(lines(analysis, animal, until, plan, level), level, zone)),
    ...orderBlocks(plan, until, zone, level !== null && notToBeFed(level)),
    table(
      "feeds",
      "Feeds of the last 24 hours.",
      [
        { title: "When" },
        { title: "Diet" },
        { title: "Offered", unit: "g", align: "number" },
        { title: "Refused", unit: "g", align: "number" },
        { title: "Eaten", unit: "g", align: "number" },
        { title: "Route" },
      ],
      feeds.map((f) => [clock(f.at), f.dietId, f.offeredG, f.row.refusedG, f.eatenG, f.row.route]),
      "No feed in the last 24 hours.",
    ),
    ...signsOfShift(animal, until, zone),
    caution(say("hand-over-caution")),
  ];
  return section(`${animalLabel(animal)}, ${animal.species}`, blocks, {
    id: `hand-over-${animal.animalId}`,
  });
}

/** A sentence that stands among the reasons of the level is said once. */
function unsaid(said: readonly string[], level: AnimalLevel | null, zone: string): string[] {
  const above = new Set(level?.reasons.map((r) => noticeText(r.sentence, screenWording(zone))));
  return said.filter((each) => !above.has(each));
}

/** Mass, feeds, plan and flags in sentences. */
function lines(
  analysis: StudyAnalysis,
  animal: AnimalAnalysis,
  until: number,
  plan: AnimalShift | null,
  /** Where no level stands above, what the day's list raised is said here. */
  level: AnimalLevel | null,
): string[] {
  const { zone } = analysis.settings;
  const wording = screenWording(zone);
  const from = until - 24 * hourMs;
  const last = [...animal.series.daily].reverse().find((d) => d.at <= until) ?? null;
  const feeds = animal.series.feeds.filter((f) => f.at > from && f.at <= until);
  const sum = (values: readonly number[]) => values.reduce((a, b) => a + b, 0);
  const said = [
    ...(plan === null ? [] : plan.order.said.filter(grave).map((n) => noticeText(n, wording))),
    say("hand-over-until", { until, zone }, zone),
    ...alertLines(animal, until, zone, level !== null && notToBeFed(level)),
    last === null
      ? say("hand-over-no-mass")
      : say("hand-over-mass", {
          mass: formatMass(last.massG),
          day: formatDate(last.feedingDay),
          within: last.at > from,
        }),
    feeds.length === 0
      ? say("hand-over-no-feed")
      : say("hand-over-fed", {
          feeds: feeds.length,
          offered: sum(feeds.map((f) => f.offeredG)),
          low: sum(feeds.map((f) => f.eatenLowG)),
          high: sum(feeds.map((f) => f.eatenHighG)),
        }),
    ...keptLine(animal.kept),
    ...againstPlan(plan),
    ...doubtNotices(analysis, animal, until).map((n) => noticeText(n, wording)),
    ...(animal.day === null || level !== null ? [] : [noticeText(animal.day.sentence, wording)]),
    ...(level === null ? (animal.day?.raised ?? []) : []).map((s) =>
      noticeText(s.sentence, wording),
    ),
  ];
  // A sign may raise a hold, a flag and a line of its own: it is said once.
  return [...new Set(said)];
}

/**
 * Weighings of the last two days and feeds of the last one that look like slips
 * of the pen, and decisions about the animal that met no row.
 */
export function doubtNotices(
  analysis: StudyAnalysis,
  animal: AnimalAnalysis,
  until: number,
): Notice[] {
  const within = (at: number, hours: number) => at <= until && at > until - hours * hourMs;
  const { weighings, feeds } = animal.series;
  return [
    ...weighings.filter((w) => w.slip !== null && within(w.at, 48)).map((w) => w.why),
    ...feeds.flatMap((f) => (within(f.at, 24) ? (f.slip?.why ?? []) : [])),
    ...analysis.series.notices.filter(
      (n) => n.code === "series-decision-without-row" && n.place?.animal === animal.animalId,
    ),
  ];
}

function againstPlan(plan: AnimalShift | null): string[] {
  const compared = plan?.compared ?? "no plan";
  if (typeof compared === "string") return [say(notComparedCodes[compared])];
  const { unit, planned, least, most } = compared;
  const percent = (x: number) => (100 * x) / planned;
  return [
    say("hand-over-against-plan", {
      planned,
      unit,
      lowPct: percent(least),
      highPct: percent(most),
    }),
    ...(unit === "kcal" ? [say("hand-over-in-energy")] : []),
  ];
}

/** What came up again, where anything did: growth and energy go by what was kept. */
function keptLine(kept: AnimalAnalysis["kept"]): string[] {
  if (kept.times === 0) return [];
  const { low, high } = kept.keptG;
  return [say("hand-over-kept", { times: kept.times, low, high: high ?? low })];
}

/** Said before anything else: dangers, and what must be asked before the next feed. */
const grave = (n: Notice) => n.level !== "info";

/** The order in force, line by line as ordered, and the feeds whose times are ordered. */
function orderBlocks(
  plan: AnimalShift | null,
  until: number,
  zone: string,
  waits: boolean,
): Block[] {
  if (plan === null) return [];
  const wording = screenWording(zone);
  const { lines, said, timesOpen, usual } = plan.order;
  const words = [
    ...lines.map(
      (line) => `${line.words}.${line.doubted ? " ? Ask." : ""} ${noticeText(line.since, wording)}`,
    ),
    ...said.filter((n) => !grave(n)).map((n) => noticeText(n, wording)),
    ...(timesOpen ? [say("order-times-not-ordered")] : []),
    ...(usual.times.length > 0 ? [say("order-usual-hours", usual)] : []),
  ];
  const due = table(
    "next-feeds",
    say("hand-over-next", { from: until, to: until + 24 * hourMs, waits }, zone),
    [{ title: "When" }, { title: "Diet" }, { title: "Ordered" }],
    plan.due.map((f) => [localText(f.at, zone), f.dietId, f.amount]),
    say("hand-over-next-none"),
  );
  return [
    ...(words.length === 0 ? [] : [list([say("hand-over-ordered"), ...words])]),
    ...(plan.due.length === 0 ? [] : [due]),
  ];
}
