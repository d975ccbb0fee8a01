import type { FeedingPlanAnswer } from "../../analysis/ask-feeding-plan.js";
import type { StudyAnalysis } from "../../analysis/study-analysis.js";
import type { Chart, ChartOptions } from "../../charts/chart.js";
import { onOneScale } from "../../charts/on-one-scale.js";
import { noticeText } from "../../core/catalogue.js";
import { type Measured, measured } from "../../core/measured.js";
import type { BatchNeed } from "../../planning/batch-size.js";
import type { TargetForecast } from "../../planning/forecast-target.js";
import type { Bounds } from "../../rates/bounds.js";
import { screenWording } from "../../units/format.js";
import { formatDate, formatInstant } from "../../units/format-date.js";
import { rowsNotUsed } from "../records/rows-not-used.js";
import { animalLabel } from "../section/animal-label.js";
import { rowsTable } from "../section/rows-table.js";
import { say } from "../section/say.js";
import { type Block, type Cell, list, text } from "../section/section.js";
import { withNames } from "../section/with-names.js";
import { forecastPicture } from "./forecast-picture.js";
import { profileRows } from "./profile-rows.js";
import { rationsPicture } from "./rations-picture.js";
import { rationReasons, rationsTable, scenarioRows, sheetRows } from "./sheet-rows.js";
import { weaningPicture } from "./weaning-picture.js";

type Part = readonly (Block | Chart)[];

/** The parts of the feeding plan, in reading order; each can be shown by itself. */
export interface FeedingPlanPage {
  readonly made: string;
  readonly records: Part;
  readonly rations: Part;
  readonly sheet: Part;
  readonly batches: Part;
  readonly scenarios: Part;
  readonly gains: Part;
  readonly weaning: Part;
  readonly forecast: Part;
  readonly profiles: Part;
}

/**
 * The feeding plan as parts to show.
 *
 * @example feedingPlanPage((await askFeedingPlan(study, options)).value).rations.length // 2
 */
export function feedingPlanPage(answer: FeedingPlanAnswer): FeedingPlanPage {
  const analysis = answer.analysis.value;
  const { zone } = analysis.settings;
  const planned = answer.planned.value;
  const { rations } = planned;
  return withNames(
    {
      made: say(
        "plan-made",
        {
          at: planned.madeAt,
          day: formatDate(planned.feedingDay),
          animals: rations.length,
          waiting: rations.filter((r) => r.status === "hold").length,
        },
        zone,
      ),
      records: [rowsNotUsed(analysis)],
      rations: [
        rationsTable(rations),
        list(rationReasons(rations, zone)),
        rationsPicture(rations),
        rowsTable("eaten-and-kept", say("plan-kept-title"), keptRows(answer)),
      ],
      sheet: [
        rowsTable("day-sheet", "Feeds of the day", sheetRows(planned.sheet, zone)),
        { kind: "notices", notices: planned.sheet.cautions },
      ],
      batches: [
        rowsTable(
          "batches",
          "Formula to make",
          planned.batches.flatMap((b) =>
            b.needs.map((n) => ({
              readyBy: formatInstant(b.from, zone),
              ...batchRow(n, analysis),
            })),
          ),
        ),
      ],
      scenarios: scenarios(answer),
      gains: gains(answer),
      weaning: weaning(answer),
      forecast: forecast(answer),
      profiles: answer.profiles.flatMap((profile) => [
        rowsTable("profile", `Profile of the ${profile.species}`, profileRows(profile)),
        ...said(profile.notices),
      ]),
    },
    analysis,
  );
}

const said = (notices: FeedingPlanAnswer["gains"]["notices"]): Block[] =>
  notices.length === 0 ? [] : [{ kind: "notices", notices }];

/** An animal by its name, as on every page. */
function labelOf({ animals }: StudyAnalysis, animalId: string): string {
  const found = animals.find((a) => a.animalId === animalId);
  return found === undefined ? animalId : animalLabel(found);
}

const batchRow = (n: BatchNeed, analysis: StudyAnalysis) => ({
  diet: n.dietId,
  fedG: n.fedG,
  batchG: n.batchG,
  feeds: n.feeds,
  animals: n.animals.map((id) => labelOf(analysis, id)).join(", "),
});

function scenarios({ scenarios: found, analysis }: FeedingPlanAnswer): Part {
  if (found === null) return [text("Every animal is on hold: there are no scenarios to show.")];
  const rows = scenarioRows(found.compared.value);
  return [rowsTable("scenarios", `Scenarios for ${labelOf(analysis.value, found.animalId)}`, rows)];
}

/** Eaten beside kept, each over the 24 h up to the instant of the plan. */
function keptRows({ analysis, kept }: FeedingPlanAnswer) {
  const range = ({ low, high }: Bounds): Cell =>
    high === null || high === low ? Math.round(low) : `${Math.round(low)} to ${Math.round(high)}`;
  return kept.map((each) => ({
    animal: labelOf(analysis.value, each.animalId),
    eatenG: range(each.eatenG),
    cameUpTimes: each.times,
    keptG: range(each.keptG),
  }));
}

function gains({ gains: found, analysis }: FeedingPlanAnswer): Part {
  const rows = found.value.animals.map((a) => ({
    animal: labelOf(analysis.value, a.animalId),
    keptKcalPerDay: a.kcalPerD,
    gain: a.gain,
    expectedGain: a.expected,
    differenceGramsPerDay: a.differenceGPerD,
  }));
  const title = "Gain against the energy that was kept (eaten less what came up), last seven days";
  return [rowsTable("expected-gains", title, rows), ...said(found.notices)];
}

function weaning({ weaning: found }: FeedingPlanAnswer): Part {
  const rows = found.map(({ animal, progress: { value: w } }) => ({
    animal: animalLabel(animal),
    state: w.state,
    firstSolid: w.begunOn,
    shareFromSolids: w.sharePct,
    pace: w.pacePctPerDay,
    daysLeft: w.daysToWeaned,
    stalledSince: w.stalledSince,
  }));
  const begun = found.filter(({ progress }) => progress.value.begunOn !== null);
  return [
    rowsTable("weaning", "Weaning", rows),
    ...begun.map(({ animal, progress }) => weaningPicture(animalLabel(animal), progress)),
  ];
}

function forecast({ forecast: found, analysis, at, targetG }: FeedingPlanAnswer): Part {
  const { forecasts } = found.value;
  const rows = forecasts.map((f) => ({
    animal: labelOf(analysis.value, f.animalId),
    earliest: f.earliest,
    likely: f.likely,
    latest: f.refused === null ? (f.latest ?? "open") : null,
    refused: f.refused === null ? "" : noticeText(f.refused, screenWording()),
    weighingIn14Days: weighingAhead(f, 14),
    forecastOfNewestWeighing: f.backtest === null ? null : f.backtest.forecastG,
    newestWeighingG: f.backtest === null ? null : f.backtest.actualG,
    insideItsInterval: f.backtest === null ? null : f.backtest.inside,
  }));
  const pictures = onOneScale(
    "Mass (g)",
    forecasts
      .filter((f) => f.path.length > 0)
      .flatMap((f) =>
        analysis.value.series.animals
          .filter((s) => s.animal.animalId === f.animalId)
          .map((s) => (options: ChartOptions) => forecastPicture(s, f, { at, ...options })),
      ),
  );
  return [
    rowsTable(
      "forecast",
      targetG === null
        ? "Day on which the target of the plan is reached"
        : `Day on which ${targetG} g are reached`,
      rows,
    ),
    ...pictures,
    text(say("forecast-how")),
    ...said(found.notices),
  ];
}

function weighingAhead(f: TargetForecast, days: number): Measured | null {
  const p = f.path.find((x) => x.aheadD === days);
  if (p === undefined) return null;
  const interval = { lower: p.weighedLower, upper: p.weighedUpper, level: 0.95 };
  return measured(p.massG, "g", { interval });
}
