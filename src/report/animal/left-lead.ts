import type { AnimalAnalysis, StudyAnalysis } from "../../analysis/study-analysis.js";
import { civilDayOf, daysBetween } from "../../units/calendar.js";
import { formatMass } from "../../units/format-measured.js";
import { say } from "../section/say.js";
import type { ShortAnswer } from "../section/section.js";
import type { AnimalLead } from "./animal-lead.js";
import { whereOf } from "./where-of.js";

/** An animal that has left: outcome, day and reason first; then what its records say in short. */
export function leftLead(analysis: StudyAnalysis, animal: AnimalAnalysis): AnimalLead {
  const { outcome, outcomeDate: day, outcomeReason: reason } = animal.series.animal;
  const name = animal.name ?? animal.animalId;
  const known = outcome !== null && outcome !== "in care";
  return {
    lead: {
      kind: "lead",
      where: whereOf(analysis, animal),
      headline: known ? say("left-outcome", { name, outcome, day }) : say("left-unknown", { name }),
      under: known
        ? reason === null
          ? say("left-no-reason")
          : say("left-reason", { reason })
        : null,
    },
    questions: {
      kind: "questions",
      answers: [
        stay(analysis, animal),
        growth(animal),
        eaten(animal),
        raised(analysis, animal),
        seen(animal),
      ],
    },
  };
}

function stay(analysis: StudyAnalysis, { series, first, last }: AnimalAnalysis): ShortAnswer {
  const { zone } = analysis.settings;
  const { admittedAt, outcomeDate } = series.animal;
  const question = say("left-question-stay");
  const from = admittedAt === null ? (first?.feedingDay ?? null) : civilDayOf(admittedAt, zone);
  const to = outcomeDate ?? last?.feedingDay ?? null;
  if (from === null || to === null)
    return { question, answer: say("left-stay-unknown"), strength: "not yet known" };
  return {
    question,
    answer: say("left-stay", { from, to, days: daysBetween(from, to) }),
    strength: admittedAt === null || outcomeDate === null ? "fair" : "strong",
  };
}

function growth({ first, last, gain }: AnimalAnalysis): ShortAnswer {
  const question = say("left-question-growth");
  const overall = gain.overall?.gain.value ?? null;
  if (first === null || last === null)
    return { question, answer: say("day-not-weighed"), strength: "not yet known" };
  const masses = { from: formatMass(first.massG), to: formatMass(last.massG) };
  return {
    question,
    answer: say("left-growth", { ...masses, gain: overall === null ? null : Math.round(overall) }),
    strength: overall === null ? "not yet known" : "strong",
  };
}

function eaten({ series }: AnimalAnalysis): ShortAnswer {
  const { feeds, sharedFeeds } = series;
  const sum = (of: (f: (typeof feeds)[number]) => number) => feeds.reduce((a, f) => a + of(f), 0);
  const [low, high] = [Math.round(sum((f) => f.eatenLowG)), Math.round(sum((f) => f.eatenHighG))];
  const question = say("left-question-eaten");
  if (feeds.length === 0)
    return { question, answer: say("left-no-feeds"), strength: "not yet known" };
  return {
    question,
    answer: say("left-eaten", { feeds: feeds.length, low, high, shared: sharedFeeds.length }),
    strength: low === high && sharedFeeds.length === 0 ? "strong" : "fair",
  };
}

/** Two ways of adding up weighings that were not expected are one thing to a reader. */
const plainKind: Readonly<Record<string, string>> = {
  "surprise average": "weighings off its course",
  "surprise sum": "weighings off its course",
};

function raised(analysis: StudyAnalysis, { animalId }: AnimalAnalysis): ShortAnswer {
  const episodes = analysis.flags.value.episodes.filter((e) => e.animalId === animalId);
  const signals = [
    ...new Set(episodes.flatMap((e) => e.signals.map((s) => plainKind[s.kind] ?? s.kind))),
  ];
  return {
    question: say("left-question-raised"),
    answer:
      episodes.length === 0
        ? say("left-none-raised")
        : say("left-raised", { n: episodes.length, signals }),
    strength: "strong",
  };
}

function seen({ alerts, series }: AnimalAnalysis): ShortAnswer {
  const dangers = alerts.filter((a) => a.level === "danger").length;
  const given = series.signs.filter((s) => s.kind === "medication" || s.kind === "fluids").length;
  return {
    question: say("left-question-seen"),
    answer: say("left-seen", { signs: series.signs.length, dangers, given }),
    strength: series.signs.length === 0 ? "not yet known" : "strong",
  };
}
