import type { Chart } from "../../charts/chart.js";
import { seasonAnimalsChart } from "../../charts/season-animals-chart.js";
import { noticeText } from "../../core/catalogue.js";
import type { Notice } from "../../core/notice.js";
import type { Result } from "../../core/result.js";
import type { AskedSeason } from "../../seasons/asked-season.js";
import type { SeasonComparison } from "../../seasons/compare-seasons.js";
import type { StudyWindow } from "../../seasons/window-of-study.js";
import { screenWording } from "../../units/format.js";
import { namesOf } from "../section/animal-label.js";
import { say } from "../section/say.js";
import type { LeadBlock } from "../section/section.js";

type Comparison = Result<"compare-seasons", SeasonComparison>;

/** The answer about the season asked about, in plain words, with what could have been found. */
export function seasonLead(comparison: Comparison, chosen: StudyWindow, zone: string): LeadBlock {
  const { asked, species, window, sentences } = comparison.value;
  const text = (n: Notice) => noticeText(n, screenWording(zone));
  const where = [species, say("season-lead-window", { from: window.fromAgeD, to: window.toAgeD })];
  const answer = asked?.sentences[0];
  const under = [
    ...(asked === null ? [] : hangsOn(asked)),
    ...(asked === null ? [] : besideAsked(comparison.value)),
    ...drawnAlone(comparison.value),
    ...(chosen.why === null ? [] : [text(chosen.why)]),
    ...(asked === null ? sentences.slice(0, 1).map(text) : []),
  ].join(" ");
  return {
    kind: "lead",
    where,
    headline: answer === undefined ? say("season-lead-none", { species }) : text(answer),
    under: under === "" ? null : under,
  };
}

/** What the answer hangs on, a sentence each: it stands beneath the headline. */
function hangsOn({ sentences, detectable }: AskedSeason): string[] {
  const notShown = sentences.find((n) => n.code === "season-asked-not-shown");
  return [
    ...(notShown === undefined ? [] : [say("season-asked-not-proof")]),
    ...(notShown?.parameters["interim"] === true ? [say("season-asked-interim")] : []),
    ...(detectable === null
      ? []
      : [say("season-asked-detectable", { difference: detectable.difference })]),
  ];
}

/** Seasons whose animals are dots in the picture and stand in no comparison. */
function drawnAlone({ seasons, animals }: SeasonComparison): string[] {
  const alone = seasons
    .filter((s) => s.adjusted.value === null)
    .map((s) => ({ ...s, n: animals.filter((a) => a.season === s.season).length }))
    .filter((s) => s.n > 0);
  if (alone.length === 0) return [];
  return [say("season-lead-few", { seasons: alone.map((s) => `${s.season} (${s.n})`) })];
}

/** What the picture shows beside the season asked about: the two others that lie furthest apart. */
function besideAsked({ pairs, asked }: SeasonComparison): string[] {
  const apart = pairs.flatMap((pair) => {
    const { value, se, interval } = pair.difference;
    const { lower, upper } = interval ?? { lower: null, upper: null };
    if (pair.from === asked?.season || pair.to === asked?.season) return [];
    if (value === null || lower === null || upper === null || lower * upper <= 0) return [];
    // As a gain of the faster over the slower.
    const [more, less] = value > 0 ? [pair.to, pair.from] : [pair.from, pair.to];
    const ends = [Math.abs(lower), Math.abs(upper)].sort((a, b) => a - b) as [number, number];
    const clear = Math.abs(value) / (se ?? Number.POSITIVE_INFINITY);
    return [{ more, less, value: Math.abs(value), ends, clear, decision: pair.decision }];
  });
  const furthest = apart.sort((a, b) => b.clear - a.clear)[0];
  if (furthest === undefined) return [];
  const { more, less, value, ends, decision } = furthest;
  const differs = decision === "differs";
  return [say("season-lead-beside", { more, less, value, low: ends[0], high: ends[1], differs })];
}

/** Every animal by season over the ages compared, by its name. */
export function seasonAnimalsPicture(
  comparison: Comparison,
  names: readonly { readonly animalId: string; readonly name: string | null }[],
): Chart {
  const name = namesOf(names);
  const { seasons, animals, window, species, asked, model } = comparison.value;
  const used = model?.used ?? [];
  return seasonAnimalsChart({
    title: say("season-picture-title", { species }),
    valueTitle: say("season-picture-axis", { from: window.fromAgeD, to: window.toAgeD }),
    intervalIs:
      used.length === 0 ? say("season-picture-plain") : say("season-picture-adjusted", { used }),
    seasons: seasons.map((s) => ({
      season: s.season,
      asked: s.season === asked?.season,
      animals: animals
        .filter((a) => a.season === s.season)
        .map((a) => ({
          id: a.animalId,
          name: name(a.animalId),
          value: a.gain,
        })),
      mean: s.adjusted.value,
      lower: s.adjusted.interval?.lower ?? null,
      upper: s.adjusted.interval?.upper ?? null,
    })),
  });
}
