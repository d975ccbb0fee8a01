import type { AnimalAnalysis, StudyAnalysis } from "../../analysis/study-analysis.js";
import { noticeText } from "../../core/catalogue.js";
import type { Wording } from "../../core/wording.js";
import type { ConversionRatio } from "../../rates/conversion-ratio.js";
import { screenWording } from "../../units/format.js";
import { formatInterval } from "../../units/format-measured.js";
import { formatNumber } from "../../units/format-number.js";
import { animalLabel } from "../section/animal-label.js";
import { type Cell, type Table, table } from "../section/section.js";
import { withTidy } from "../section/tidy-table.js";

/**
 * Feed conversion of each animal over its last window: gain per feed first
 * (defined also for a loss), then feed per gain on three bases, each with its
 * interval.
 */
export function conversionTable(
  analysis: StudyAnalysis,
  animals: readonly AnimalAnalysis[] = analysis.animals.filter((a) => a.inCare),
): Table {
  const wording = screenWording(analysis.settings.zone);
  const shown = table(
    "feed-conversion",
    "Feed conversion over the last days (feed kept, which is eaten less what came up, between two weighings over regression gain), 95 % intervals by Fieller's theorem. Feed kept per gain is not defined while gain is zero or negative.",
    [
      { title: "Animal" },
      { title: "Days", align: "number", digits: 3 },
      { title: "Gain", unit: "g/d", align: "number", digits: 3 },
      { title: "Gain per feed kept, as fed", unit: "g/g" },
      { title: "Feed kept per gain, as fed", unit: "g/g" },
      { title: "Feed kept per gain, dry matter", unit: "g/g" },
      { title: "Energy kept per gain", unit: "kcal/g" },
    ],
    animals.map((a) => {
      const { value } = a.conversion;
      return [
        animalLabel(a),
        value.days,
        value.gain,
        ratioCell(value.gainPerFeed.asFed, wording),
        ratioCell(value.feedPerGain.asFed, wording),
        ratioCell(value.feedPerGain.dryMatter, wording),
        ratioCell(value.feedPerGain.energy, wording),
      ];
    }),
    "No animal.",
  );
  return withTidy(
    shown,
    shown.columns,
    animals.map((a) => {
      const { days, gain, gainPerFeed, feedPerGain } = a.conversion.value;
      const ratios = [gainPerFeed.asFed, feedPerGain.asFed, feedPerGain.dryMatter];
      return [animalLabel(a), days, gain, ...[...ratios, feedPerGain.energy].map(bare)];
    }),
  );
}

/** A ratio known only to lie between two ends has these, and no value. */
function bare(ratio: ConversionRatio): Cell {
  const { range, ...rest } = ratio;
  return ratio.value !== null || range === null
    ? rest
    : { ...rest, interval: { lower: range.low, upper: range.high, level: 1 } };
}

/** As text where there is a number; else the ratio itself, whose reason goes under the table. */
function ratioCell(ratio: ConversionRatio, wording: Wording): Cell {
  return ratio.value === null && ratio.range === null ? ratio : ratioText(ratio, wording);
}

/** A ratio with its interval, its range, or the reason why there is none. */
export function ratioText(ratio: ConversionRatio, wording: Wording): string {
  const number = (x: number | null, none: string) => (x === null ? none : formatNumber(x, 3));
  if (ratio.value !== null) {
    const { interval } = ratio;
    if (interval === undefined) return number(ratio.value, "");
    const { lower, upper } = interval;
    const { value, range } = formatInterval(ratio.value, lower, upper, ratio.unit);
    return `${value} (${range.replace(" or more", " to unbounded")})`;
  }
  if (ratio.range !== null && ratio.range !== undefined) {
    return `between ${number(ratio.range.low, "unbounded")} and ${number(ratio.range.high, "unbounded")}`;
  }
  return ratio.why === undefined ? "not defined" : noticeText(ratio.why, wording);
}
