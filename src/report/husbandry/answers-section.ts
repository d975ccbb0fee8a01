import type { ReportAnswer } from "../../analysis/ask-report.js";
import type { AnimalAnalysis } from "../../analysis/study-analysis.js";
import { formatMeasured } from "../../units/format-measured.js";
import { count } from "../../units/format-number.js";
import { type DayBoard, dayBoard } from "../day/day-board.js";
import { gainsPictures } from "../day/gains-picture.js";
import { rowsNotUsed } from "../records/rows-not-used.js";
import { seasonLead } from "../seasons/season-lead.js";
import { animalLabel } from "../section/animal-label.js";
import { say } from "../section/say.js";
import {
  type Cell,
  caution,
  chartBlock,
  type LeadBlock,
  type Section,
  type ShortAnswer,
  section,
  type Table,
  table,
} from "../section/section.js";
import { withTidy } from "../section/tidy-table.js";

export type AnswersInput = Pick<
  ReportAnswer,
  "analysis" | "seasons" | "levels" | "shift" | "feeding" | "outcomes"
>;

/** Two pages of answers: who needs what today, and the reader's questions in a sentence or two each. */
export function answersSection(answer: AnswersInput, recordsHref: string): Section {
  const { value } = answer.analysis;
  const board = dayBoard(answer);
  const inCare = value.animals.filter((a) => a.inCare);
  const species = [...new Set(value.animals.map((a) => a.species))].sort();
  const answers = species.flatMap((each): ShortAnswer[] => [
    ...grows(each, inCare),
    ...season(answer, each),
    ...fed(answer, each),
    ...lived(answer, each),
  ]);
  return section(
    "Answers",
    [
      {
        kind: "lead",
        where: board.where.slice(0, 3),
        headline: board.headline,
        under: null,
      },
      ...(board.rows.length === 0 ? [] : [inCareTable(board, value.gainDays, inCare)]),
      { kind: "questions", answers },
      rowsNotUsed(value, recordsHref),
      caution(
        "These numbers come from written records and are no diagnosis. The attending veterinarian decides; permit conditions, the responsible agencies and local rules come first; not flagged does not mean healthy.",
      ),
      ...gainsPictures(value, [...new Set(inCare.map((a) => a.species))]).map(chartBlock),
    ],
    { id: "answers" },
  );
}

function inCareTable(board: DayBoard, gainDays: number, animals: readonly AnimalAnalysis[]): Table {
  const shown = table(
    "in-care",
    say("report-in-care"),
    [
      { title: "Animal" },
      { title: "Level" },
      { title: "Why, and what is next" },
      { title: "Mass" },
      { title: `Gain over ${count(gainDays, "day")}` },
    ],
    board.rows.map((r) => [
      animalLabel(r),
      r.level,
      [r.why[0] ?? "", ...r.next.slice(0, 1).map((n) => `${n.when} ${n.act}`)].join(" "),
      r.mass.value,
      r.gain.value,
    ]),
  );
  const { columns } = shown;
  return withTidy(
    shown,
    [
      ...columns.slice(0, 3),
      { title: "Last mass", unit: "g" },
      { title: "Weighed on" },
      columns[4]!,
    ],
    board.rows.map((r, i) => {
      const animal = animals.find((a) => a.animalId === r.animalId);
      const [name, level, why] = shown.rows[i] as readonly [Cell, Cell, Cell];
      const { last = null, gain } = animal ?? {};
      return [
        name,
        level,
        why,
        last?.massG ?? null,
        last?.feedingDay ?? null,
        gain?.recent.gain ?? null,
      ];
    }),
  );
}

function grows(species: string, inCare: readonly AnimalAnalysis[]): ShortAnswer[] {
  const own = inCare.filter((a) => a.species === species);
  if (own.length === 0) return [];
  const gains = own.flatMap((a) => a.gain.recent.relative.value ?? []).sort((a, b) => a - b);
  const slow = own
    .filter((a) => a.day?.raised.some((s) => s.class === "statistical" && s.direction === "low"))
    .map((a) => a.name ?? a.animalId);
  return [
    {
      question: say("report-gain-question", { species }),
      answer: say("report-gain-answer", {
        n: gains.length,
        of: own.length,
        low: tenths(gains[0]),
        high: tenths(gains.at(-1)),
        slow,
      }),
      strength: gains.length === 0 ? "not yet known" : gains.length < 3 ? "fair" : "strong",
    },
  ];
}

/** Gains in %/d are never written finer than that. */
const tenths = (gain: number | undefined) =>
  gain === undefined ? null : Math.round(10 * gain) / 10;

function season({ seasons, analysis }: AnswersInput, species: string): ShortAnswer[] {
  const found = seasons.compared.find((c) => c.comparison.value.species === species);
  const asked = found?.comparison.value.asked ?? null;
  if (found === undefined || asked === null) return [];
  const { zone } = analysis.value.settings;
  const { lower, upper } = asked.difference.interval ?? { lower: null, upper: null };
  const told = lower !== null && upper !== null && (lower > 0 || upper < 0);
  return [
    {
      question: say("report-season-question", { species, season: asked.season }),
      answer: wholeAnswer(seasonLead(found.comparison, found.window, zone)),
      strength: asked.difference.value === null ? "not yet known" : told ? "strong" : "fair",
    },
  ];
}

const wholeAnswer = ({ headline, under }: LeadBlock) => [headline, under ?? ""].join(" ").trim();

function fed({ feeding }: AnswersInput, species: string): ShortAnswer[] {
  const first = feeding.find((f) => f.species === species);
  if (first === undefined) return [];
  return [
    {
      question: say("report-fed-question", { species }),
      answer: say("report-fed-answer", {
        from: first.fromD,
        to: first.toD,
        between: first.betweenH,
        feeds: first.feedsGiven,
        eaten: first.ofOrderedPct,
        share: first.shareOfMassPct,
      }),
      strength: first.ofOrderedPct === null ? "fair" : "strong",
    },
  ];
}

function lived({ outcomes }: AnswersInput, species: string): ShortAnswer[] {
  const own = outcomes.seasons.filter((s) => s.species === species);
  const of = own.reduce((sum, s) => sum + s.admitted, 0);
  const ended = (...names: string[]) =>
    own.reduce((sum, s) => sum + names.reduce((n, name) => n + (s.outcomes[name] ?? 0), 0), 0);
  const share = outcomes.deaths.filter((d) => d.species === species).find((d) => d.day === 30);
  if (share === undefined) return [];
  const died = ended("died", "euthanised");
  const inCare = ended("in care", "not written");
  return [
    {
      question: say("report-survival-question", { species }),
      answer: say("report-survival-answer", {
        died,
        of,
        day: share.day,
        share: share.atRisk === 0 ? null : formatMeasured(share.died, 2),
        left: of - died - inCare,
        inCare,
      }),
      strength: share.atRisk < 5 ? "not yet known" : share.atRisk < 20 ? "fair" : "strong",
    },
  ];
}
