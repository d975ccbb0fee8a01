import type { SlowGainerAnswer } from "../../analysis/ask-slow-gainer.js";
import type { RivalExplanations, RivalVerdict } from "../../analysis/explanations/explanation.js";
import { noticeText } from "../../core/catalogue.js";
import type { Measured } from "../../core/measured.js";
import type { Notice } from "../../core/notice.js";
import type { Wording } from "../../core/wording.js";
import type { AnimalLevel } from "../../flags/levels/level.js";
import { screenWording } from "../../units/format.js";
import { formatDays } from "../../units/format-date.js";
import { formatMeasured } from "../../units/format-measured.js";
import { nextActs } from "../day/act-words.js";
import { byName } from "../section/by-name.js";
import { say } from "../section/say.js";
import type { Block, RecordStrength, ShortAnswer } from "../section/section.js";
import { besideHeadline } from "./beside-headline.js";
import { whereOf } from "./where-of.js";

/** What the headline of a slow gainer is about: its other reasons stand beside it. */
export const slowGain: ReadonlySet<string> = new Set(["slowed gain", "gain"]);

/** The first screen of a slow gainer: the answer, and the veterinarian's five questions. */
export function slowGainerLead(
  answer: SlowGainerAnswer,
  level: AnimalLevel,
): {
  readonly lead: Block;
  readonly questions: Block;
} {
  const analysis = answer.analysis.value;
  const { animal } = answer;
  const wording = screenWording(analysis.settings.zone);
  const text = (n: Notice) => noticeText(byName(n, animal), wording);
  const { value: why } = answer.explanations;
  const beside = besideHeadline(animal, level, analysis.settings.zone, slowGain);
  const danger = beside.first ? beside.reason : null;
  const ask = why.rivals.filter((r) => r.verdict === "likely").flatMap((r) => r.ask)[0];
  return {
    lead: {
      kind: "lead",
      where: whereOf(analysis, animal),
      // A danger is said before what may stand behind a slow gain.
      headline:
        danger === null
          ? text(why.headline)
          : say("animal-stands", { name: animal.name ?? animal.animalId, why: danger }),
      under:
        danger === null
          ? ask === undefined
            ? null
            : text(ask)
          : `${nextActs(level, analysis.settings.zone)
              .map((a) => `${a.when} ${a.act}`.trim())
              .join(" ")} ${text(why.headline)}`,
      ...(beside.first ? { also: beside.others } : {}),
    },
    questions: {
      kind: "questions",
      answers: [
        why.slow === "not slow"
          ? { question: say("slow-question-real"), answer: say("slow-real-not"), strength: "fair" }
          : realAnswer(answer, wording),
        sinceAnswer(answer),
        missingAnswer(why),
        whyAnswer(why, text),
        changeAnswer(answer, text),
      ],
    },
  };
}

function realAnswer({ real, animal }: SlowGainerAnswer, wording: Wording): ShortAnswer {
  const { answers, conclusion } = real.value;
  const open = answers.some((a) => a.verdict === "cannot be told");
  return {
    question: say("slow-question-real"),
    answer: noticeText(byName(conclusion, animal), wording),
    strength: open ? "fair" : "strong",
  };
}

function sinceAnswer({ change }: SlowGainerAnswer): ShortAnswer {
  const { since, earliest, latest, strength } = change.value;
  const question = say("slow-question-since");
  if (strength === "none" || since === null || earliest === null || latest === null)
    return { question, answer: say("slow-since-none"), strength: "not yet known" };
  const days = { since, days: formatDays(earliest, latest) };
  return strength === "raised"
    ? { question, answer: say("slow-since", days), strength: "strong" }
    : { question, answer: say("slow-since-weak", days), strength: "not yet known" };
}

function missingAnswer(why: RivalExplanations): ShortAnswer {
  const question = say("slow-question-missing");
  const { missing } = why.quantities;
  const lower = missing.interval?.lower ?? null;
  if (missing.value === null)
    return { question, answer: say("slow-missing-unknown"), strength: "not yet known" };
  const about = { from: why.from, n: why.contemporaries.length };
  const given = { ...about, missing: formatMeasured(missing) };
  // It gained more, and all that its weighings leave open is more: that is said as such.
  const upper = missing.interval?.upper ?? null;
  if (lower !== null && upper !== null && upper < 0) {
    const interval = { ...missing.interval!, lower: -upper, upper: -lower };
    const more = formatMeasured({ ...missing, value: -missing.value, interval });
    return {
      question,
      answer: say("slow-missing-more", { ...about, more }),
      strength: strengthOf(missing),
    };
  }
  return lower !== null && lower > 0
    ? { question, answer: say("slow-missing", given), strength: strengthOf(missing) }
    : { question, answer: say("slow-missing-nothing", given), strength: "fair" };
}

/** Strong where the interval is narrower than half of what it is about. */
function strengthOf(m: Measured): RecordStrength {
  const { lower, upper } = m.interval ?? { lower: null, upper: null };
  if (m.value === null || lower === null || upper === null) return "not yet known";
  return (upper - lower) / 2 < Math.abs(m.value) / 2 ? "strong" : "fair";
}

function whyAnswer(why: RivalExplanations, text: (n: Notice) => string): ShortAnswer {
  const of = (verdict: RivalVerdict) => why.rivals.filter((r) => r.verdict === verdict);
  const leading = of("likely")[0] ?? of("possible")[0];
  const because = leading?.speaksFor[0];
  const order = formatMeasured(why.quantities.eatenOfOrderedPct);
  const eaten =
    why.quantities.eatenOfOrderedPct.value === null ? [] : [say("slow-eaten", { order })];
  const none = why.slow === "not slow" ? say("slow-why-not") : say("slow-why-unknown");
  const answer = because === undefined || why.slow === "not slow" ? none : text(because);
  return {
    question: say("slow-question-why"),
    // What it ate of its order may be the explanation itself: said once.
    answer: answer.includes(order) ? answer : [answer, ...eaten].join(" "),
    strength:
      of("likely").length > 0
        ? "strong"
        : leading === undefined && why.slow !== "not slow"
          ? "not yet known"
          : "fair",
  };
}

function changeAnswer(
  { whatWouldChange }: SlowGainerAnswer,
  text: (n: Notice) => string,
): ShortAnswer {
  const order = ["danger now", "eaten without gain", "lighter than its course", "second scale"];
  const findings = [...whatWouldChange.value.findings].sort(
    (a, b) => rankOf(order, a.finding) - rankOf(order, b.finding),
  );
  const first = findings[0];
  return {
    question: say("slow-question-change"),
    answer: first === undefined ? say("slow-change-none") : text(first.sentence),
    strength: "not yet known",
  };
}

const rankOf = (order: readonly string[], name: string) =>
  order.includes(name) ? order.indexOf(name) : order.length;
