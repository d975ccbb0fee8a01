import type { AnimalAnalysis, StudyAnalysis } from "../../analysis/study-analysis.js";
import { onOneScale } from "../../charts/on-one-scale.js";
import { noticeText } from "../../core/catalogue.js";
import type { AnimalLevel } from "../../flags/levels/level.js";
import type { AnimalShift } from "../../planning/plan-shift.js";
import { screenWording } from "../../units/format.js";
import { askedLines } from "../day/asked-lines.js";
import { conversionTable } from "../day/conversion-table.js";
import { graveOrders } from "../day/grave-orders.js";
import { doubtNotices } from "../day/hand-over.js";
import { say } from "../section/say.js";
import {
  type Block,
  caution,
  chartBlock,
  fold,
  type LeadBlock,
  list,
  type Section,
  section,
  text,
} from "../section/section.js";
import { type AnimalLead, animalLead } from "./animal-lead.js";
import { animalRecordsSection } from "./animal-records-section.js";
import { animalSummary } from "./animal-summary.js";
import { besideHeadline } from "./beside-headline.js";
import { curvesTable } from "./curves-table.js";
import { firstWeekSections } from "./first-week-section.js";
import { flagEvidenceTable } from "./flag-evidence-table.js";
import { flagLogTable } from "./flag-log-table.js";
import { gainPicture } from "./gain-picture.js";
import { growthCurvePicture } from "./growth-curve-picture.js";
import { intakePicture } from "./intake-picture.js";
import { leftLead } from "./left-lead.js";
import { massAmongOthersPicture } from "./masses-picture.js";
import { observationsTable } from "./observations-table.js";
import { signsByDayTable } from "./signs-by-day-table.js";
import { timelinePicture } from "./timeline-picture.js";

/** Where an animal stands on the day, and its orders: null for one that is not in care. */
export interface Standing {
  readonly level: AnimalLevel;
  readonly shift: AnimalShift | null;
}

/** Days of the picture of an animal in care; one that has left is shown whole. */
const shownDays = 42;

/**
 * The page of one animal, for the veterinarian or the authority: the answer, one
 * picture and five questions; dangers, signs, doubts and orders in the open;
 * everything else folded.
 *
 * @example
 * const { analysis } = (await askDay(study)).value;
 * animalPage(analysis.value, analysis.value.animals[0], null).sections[0].id // "answer"
 */
export function animalPage(
  analysis: StudyAnalysis,
  animal: AnimalAnalysis,
  standing: Standing | null,
): { readonly lead: LeadBlock; readonly sections: readonly Section[] } {
  const { lead, questions }: AnimalLead =
    standing === null
      ? leftLead(analysis, animal)
      : animalLead(analysis, animal, standing.level, standing.shift);
  const picture = timelinePicture(analysis, animal, standing === null ? {} : { days: shownDays });
  return {
    lead,
    sections: [
      section("", [chartBlock(picture), questions], { id: "answer", look: "first screen" }),
      section(
        "",
        [
          ...openBlocks(analysis, animal, standing),
          ...folds(analysis, animal, standing?.level ?? null),
        ],
        {
          id: "behind",
          look: "first screen",
        },
      ),
    ],
  };
}

/**
 * What is never folded: further reasons, instructions, what was not understood,
 * doubts. `says`: kinds of reasons that the headline is about.
 */
export function openBlocks(
  analysis: StudyAnalysis,
  animal: AnimalAnalysis,
  standing: Standing | null,
  says?: ReadonlySet<string>,
): Block[] {
  if (standing === null) return [];
  const wording = screenWording(analysis.settings.zone);
  const { level, shift } = standing;
  const beside = besideHeadline(animal, level, analysis.settings.zone, says);
  const orders = graveOrders(shift, analysis.settings.zone);
  const doubts = doubtNotices(analysis, animal, level.at).map((n) => noticeText(n, wording));
  const also = [...new Set([...(beside.first ? [] : beside.others), ...orders, ...doubts])];
  const asked = askedLines(analysis, animal, level.at);
  return [
    ...(also.length === 0 ? [] : [list(also)]),
    ...(asked.length === 0 ? [] : [text(say("asked-title")), list(asked)]),
    caution(say("animal-decide")),
  ];
}

function folds(
  analysis: StudyAnalysis,
  animal: AnimalAnalysis,
  level: AnimalLevel | null,
): Block[] {
  return [
    fold(say("fold-summary"), animalSummary(analysis, animal, level).blocks),
    ...firstWeekSections(animal, analysis.settings.zone).map((each) =>
      fold(each.heading, each.blocks),
    ),
    fold(say("fold-growth"), [
      ...onOneScale("Mass (g)", [
        (options) => massAmongOthersPicture(analysis, animal, options),
        (options) => growthCurvePicture(animal, options),
      ]).map(chartBlock),
      curvesTable(animal),
      chartBlock(gainPicture(analysis, animal)),
    ]),
    fold(say("fold-feeding"), [
      chartBlock(intakePicture(animal)),
      conversionTable(analysis, [animal]),
    ]),
    fold(say("fold-seen"), [
      signsByDayTable(analysis, animal),
      observationsTable(analysis, animal),
    ]),
    fold(say("fold-flags"), [
      flagEvidenceTable(analysis, animal),
      flagLogTable(analysis, { animalId: animal.animalId }),
    ]),
    fold(say("fold-records"), animalRecordsSection(analysis, animal).blocks),
  ];
}
