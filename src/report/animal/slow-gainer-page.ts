import type { SlowGainerAnswer } from "../../analysis/ask-slow-gainer.js";
import type { Chart } from "../../charts/chart.js";
import { onOneScale } from "../../charts/on-one-scale.js";
import type { PlainCode } from "../../core/notice.js";
import { say } from "../section/say.js";
import { type Block, chartBlock, type FoldBlock, fold, type Section } from "../section/section.js";
import { withNames } from "../section/with-names.js";
import { openBlocks } from "./animal-page.js";
import { animalRecordsSection } from "./animal-records-section.js";
import { animalSummary } from "./animal-summary.js";
import { changeOfGainSection } from "./change-of-gain-section.js";
import { contemporaryFeedingTable } from "./contemporary-feeding-table.js";
import { contemporaryZTable } from "./contemporary-z-table.js";
import { curvesTable } from "./curves-table.js";
import { expectedWeekPicture } from "./expected-week-picture.js";
import { expectedWeekSection, expectedWeekTable } from "./expected-week-table.js";
import { flagEvidenceTable } from "./flag-evidence-table.js";
import { flagLogTable } from "./flag-log-table.js";
import { growthCurvePicture } from "./growth-curve-picture.js";
import { happeningsTable } from "./happenings-table.js";
import { inShortSection } from "./in-short-section.js";
import { leftLead } from "./left-lead.js";
import { massForLengthTable } from "./mass-for-length-table.js";
import { massAmongOthersPicture } from "./masses-picture.js";
import { missingGramsTable } from "./missing-grams-table.js";
import { questionsSection } from "./questions-section.js";
import { realOrNotTable } from "./real-or-not-table.js";
import { rhythmTable } from "./rhythm-table.js";
import { slowCourse } from "./slow-course.js";
import { slowGain, slowGainerLead } from "./slow-gainer-lead.js";
import { timelinePicture } from "./timeline-picture.js";
import { whatWouldChangeSection } from "./what-would-change-section.js";

/** The parts of a slow gainer's page, in reading order; each can be shown by itself. */
export interface SlowGainerPage {
  /** The answer in a sentence, one picture, five questions. */
  readonly answer: readonly (Block | Chart)[];
  /** Dangers, signs, doubts and questions: never folded. */
  readonly open: readonly Block[];
  /** Everything else, closed until somebody asks. */
  readonly found: readonly FoldBlock[];
  readonly others: readonly FoldBlock[];
  readonly cause: readonly FoldBlock[];
  readonly ahead: readonly FoldBlock[];
  readonly judged: readonly FoldBlock[];
  readonly examination: readonly FoldBlock[];
  readonly records: readonly FoldBlock[];
}

/**
 * A slow gainer as parts to show.
 *
 * @example slowGainerPage((await askSlowGainer(study, { animal: "O25-04" })).value).answer[0] // the headline
 */
export function slowGainerPage(answer: SlowGainerAnswer): SlowGainerPage {
  const { animal, change, happened, week, missing, margin, level } = answer;
  const analysis = answer.analysis.value;
  const { lead, questions } =
    level === null ? leftLead(analysis, animal) : slowGainerLead(answer, level);
  const picture = timelinePicture(analysis, animal, {
    days: answer.shownDays,
    happened,
    slow: slowCourse(analysis, animal, answer),
  });
  const ofOthers: Block = {
    kind: "notices",
    notices: missing.notices.filter((n) => n.code.startsWith("contemporaries")),
  };
  const [amongOthers, grown] = onOneScale("Mass (g)", [
    (options) => massAmongOthersPicture(analysis, animal, options),
    (options) => growthCurvePicture(animal, options),
  ]) as readonly [Chart, Chart];
  return withNames(
    {
      answer: [lead, picture, questions],
      open: openBlocks(analysis, animal, level === null ? null : { level, shift: null }, slowGain),
      found: [
        folded("slow-fold-short", [
          animalSummary(analysis, animal, level),
          inShortSection(analysis, animal, answer),
        ]),
        folded("slow-question-real", [realOrNotTable(analysis, answer.real)]),
        folded("slow-question-since", [
          changeOfGainSection(analysis, change, answer.explanations.value),
          happeningsTable(analysis, animal, happened),
        ]),
      ],
      others: [
        folded("slow-fold-others", [
          amongOthers,
          contemporaryZTable(analysis, animal),
          massForLengthTable(analysis, answer.massForLength, animal.animalId),
        ]),
      ],
      cause: [
        folded("slow-question-why", [
          contemporaryFeedingTable(answer.contemporaryFeeding),
          missingGramsTable(missing, margin),
          ofOthers,
          rhythmTable(analysis, answer.rhythm),
        ]),
      ],
      ahead: [
        folded("slow-fold-week", [
          expectedWeekSection(analysis, week),
          expectedWeekPicture(animal, week),
          expectedWeekTable(week),
        ]),
        folded("slow-question-change", [whatWouldChangeSection(analysis, answer.whatWouldChange)]),
      ],
      judged: [
        folded("fold-flags", [
          flagEvidenceTable(analysis, animal),
          flagLogTable(analysis, { animalId: animal.animalId }),
        ]),
        folded("slow-fold-curve", [grown, curvesTable(animal)]),
      ],
      examination: [
        folded("slow-fold-examination", [questionsSection(analysis, answer.questions)]),
      ],
      records: [folded("fold-records", [animalRecordsSection(analysis, animal)])],
    },
    analysis,
  );
}

type Title = PlainCode;

function folded(title: Title, parts: readonly (Section | Block | Chart)[]): FoldBlock {
  return fold(
    say(title),
    parts.flatMap((part): readonly Block[] =>
      part.kind === "section" ? part.blocks : part.kind === "chart" ? [chartBlock(part)] : [part],
    ),
  );
}
