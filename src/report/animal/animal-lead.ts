import type { AnimalAnalysis, StudyAnalysis } from "../../analysis/study-analysis.js";
import { noticeText } from "../../core/catalogue.js";
import { sizeLimits } from "../../core/size-limits.js";
import type { AnimalLevel } from "../../flags/levels/level.js";
import type { AnimalShift } from "../../planning/plan-shift.js";
import { screenWording } from "../../units/format.js";
import { formatMass, formatMeasured } from "../../units/format-measured.js";
import { hourMs } from "../../units/hour-ms.js";
import { momentWords, nextActs } from "../day/act-words.js";
import { eatenInFast } from "../day/eaten-in-fast.js";
import { notComparedCodes } from "../day/not-compared.js";
import { notToBeFed } from "../day/not-to-be-fed.js";
import { capital } from "../section/capital.js";
import { say } from "../section/say.js";
import type { LeadBlock, QuestionsBlock, ShortAnswer } from "../section/section.js";
import { signSaid } from "../section/sign-text.js";
import { besideHeadline } from "./beside-headline.js";
import { othersAreDrawn } from "./course-others.js";
import { whereOf } from "./where-of.js";

/** The first screen of one animal: the answer in a sentence, and five questions. */
export interface AnimalLead {
  readonly lead: LeadBlock;
  readonly questions: QuestionsBlock;
}

/** An animal in care: where it stands and why, how it gains and eats, what was seen. */
export function animalLead(
  analysis: StudyAnalysis,
  animal: AnimalAnalysis,
  level: AnimalLevel,
  shift: AnimalShift | null,
): AnimalLead {
  const name = animal.name ?? animal.animalId;
  const beside = besideHeadline(animal, level, analysis.settings.zone);
  const { possible, of } = level.checks;
  const headline =
    beside.reason !== null
      ? say("animal-stands", { name, why: beside.reason })
      : level.level === "not judged"
        ? say("animal-not-judged", { name })
        : say("animal-calm", { name, possible, of });
  const acts = nextActs(level, analysis.settings.zone).map((a) => `${a.when} ${a.act}`.trim());
  return {
    lead: {
      kind: "lead",
      where: whereOf(analysis, animal),
      headline,
      under: acts.join(" "),
      ...(beside.first ? { also: beside.others } : {}),
    },
    questions: {
      kind: "questions",
      answers: [
        gainAnswer(analysis, animal),
        courseAnswer(analysis, animal),
        eatenAnswer(animal, shift),
        seenAnswer(analysis, animal, level),
        nextAnswer(animal, shift, notToBeFed(level)),
      ],
    },
  };
}

function gainAnswer(analysis: StudyAnalysis, animal: AnimalAnalysis): ShortAnswer {
  const question = say("animal-question-gain");
  const { gain, relative, n } = animal.gain.recent;
  if (gain.value === null) {
    const why =
      gain.why === undefined ? "" : noticeText(gain.why, screenWording(analysis.settings.zone));
    return { question, answer: say("animal-gain-unknown", { why }), strength: "not yet known" };
  }
  const z = animal.z?.gain;
  const beside =
    z == null || z.centre === null
      ? ""
      : say("animal-gain-beside", { centre: z.centre, n: z.n, drawn: othersAreDrawn(animal) });
  return {
    question,
    answer: say("animal-gain", {
      gain: formatMeasured(gain),
      days: analysis.gainDays,
      relative: formatMeasured(relative, 2),
      beside,
    }),
    strength: n >= 6 ? "strong" : "fair",
  };
}

/** Against what it was on course for three weeks ago, or when it came. */
function courseAnswer(analysis: StudyAnalysis, animal: AnimalAnalysis): ShortAnswer {
  const question = say("animal-question-course");
  const course = analysis.flags.value.courses.find((c) => c.animalId === animal.animalId);
  const from = course?.days[0]?.day;
  const then = course?.days.find((d) => d.day === animal.last?.feedingDay);
  if (then === undefined || from === undefined || animal.last === null)
    return { question, answer: say("animal-course-unknown"), strength: "not yet known" };
  const { massG } = animal.last;
  const inside = massG >= then.lowG && massG <= then.highG;
  const expected = formatMeasured({
    value: then.massG,
    unit: "g",
    interval: { lower: then.lowG, upper: then.highG, level: 0.95 },
  });
  return {
    question,
    answer: say("animal-course", {
      mass: formatMass(massG),
      from,
      expected,
      where: inside ? "inside" : massG < then.lowG ? "below" : "above",
    }),
    strength: inside ? "fair" : "strong",
  };
}

/** What was eaten of the order, and of that what was kept: growth goes by the second. */
function eatenAnswer(animal: AnimalAnalysis, shift: AnimalShift | null): ShortAnswer {
  const eaten = orderAnswer(shift, animal.phase);
  const { keptG, times } = animal.kept;
  if (animal.kept.eatenG.high === 0) return eaten;
  const kept = say("animal-kept", {
    times,
    low: Math.round(keptG.low),
    high: Math.round(keptG.high ?? keptG.low),
  });
  return { ...eaten, answer: `${eaten.answer} ${kept}` };
}

function orderAnswer(shift: AnimalShift | null, phase: string | null): ShortAnswer {
  const question = say("animal-question-eaten");
  const compared = shift?.compared ?? "no plan";
  if (typeof compared === "string") {
    const answer = say(notComparedCodes[compared]);
    return { question, answer, strength: "not yet known" };
  }
  const { least, most, planned, unit } = compared;
  const whole = Math.round;
  const share = say("animal-eaten", {
    lowPct: whole((100 * least) / planned),
    highPct: whole((100 * most) / planned),
    least: whole(least),
    most: whole(most),
    planned: whole(planned),
    unit,
  });
  const fast = eatenInFast(phase, compared, "sentence");
  return {
    question,
    answer: [share, ...fast].join(" "),
    strength: most - least < 0.02 * planned ? "strong" : "fair",
  };
}

/** What was seen in two days: the reasons beside the first stand open under the picture. */
function seenAnswer(
  analysis: StudyAnalysis,
  animal: AnimalAnalysis,
  level: AnimalLevel,
): ShortAnswer {
  const { zone } = analysis.settings;
  const recent = animal.series.signs.filter(
    (s) => s.at <= level.at && s.at > level.at - 48 * hourMs,
  );
  const told = recent
    .filter((s) => s.state !== "none" || s.findings.length > 0)
    .slice(-3)
    .reverse()
    .map((s) =>
      say("day-sign", {
        what: signSaid(s, sizeLimits.saidLetters),
        when: momentWords(s.at, level.at, zone),
      }),
    );
  return {
    question: say("animal-question-seen"),
    answer: told.length === 0 ? say("animal-seen-nothing") : `${capital(told.join("; "))}.`,
    strength: told.length === 0 ? "not yet known" : "strong",
  };
}

function nextAnswer(
  animal: AnimalAnalysis,
  shift: AnimalShift | null,
  waits: boolean,
): ShortAnswer {
  const question = say("animal-question-next");
  const { expected } = animal.day ?? {};
  const lines = shift?.order.lines.map((l) => l.words) ?? [];
  const ordered =
    shift?.order.state === "nothing by mouth"
      ? say("animal-nil")
      : lines.length === 0
        ? say("animal-no-order")
        : say(waits ? "animal-ordered-waits" : "animal-ordered", { lines });
  const mass =
    expected?.gain.value == null
      ? ""
      : ` ${say("animal-expected-gain", { gain: formatMeasured({ ...expected.gain, unit: "%/d" }, 2) })}`;
  return {
    question,
    answer: `${ordered}${mass}`,
    strength: lines.length === 0 ? "not yet known" : "fair",
  };
}
