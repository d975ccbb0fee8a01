import type { AnimalAnalysis, StudyAnalysis } from "../../analysis/study-analysis.js";
import type { Episode } from "../../flags/animal-day/episode.js";
import { feedingDaySpan } from "../../units/calendar.js";
import { formatDate, formatDays } from "../../units/format-date.js";
import { animalLabel } from "../section/animal-label.js";
import { say } from "../section/say.js";
import { type Cell, type Table, table } from "../section/section.js";
import { withTidy } from "../section/tidy-table.js";

const done: readonly string[] = ["medication", "fluids", "exam"];

export interface FlagLogOptions {
  /** Only this animal's episodes. */
  readonly animalId?: string;
  /** Only these seasons', by species and season. */
  readonly of?: (animal: AnimalAnalysis) => boolean;
  /** Name of the table. Default "flag-log". */
  readonly name?: string;
}

/**
 * What was raised and what was done: one row an episode, with the days it
 * opened and closed, its signals, the notes by which people acknowledged it, and
 * the treatments written down while it was open. That a treatment follows a flag
 * in time does not say that it was given for it.
 */
export function flagLogTable(analysis: StudyAnalysis, options: FlagLogOptions = {}): Table {
  const animals = new Map(analysis.animals.map((a) => [a.animalId, a]));
  const found = analysis.flags.value.episodes.flatMap((episode) => {
    const animal = animals.get(episode.animalId);
    if (animal === undefined) return [];
    if (options.animalId !== undefined && options.animalId !== episode.animalId) return [];
    if (options.of !== undefined && !options.of(animal)) return [];
    return [{ episode, animal }];
  });
  const openedBy = (e: Episode) => (e.openedBy === "statistical" ? "weighings" : "rule");
  const rows = found.map(({ episode, animal }): readonly Cell[] => [
    animalLabel(animal),
    episode.openedOn,
    closing(episode, animal),
    openedBy(episode),
    raisedText(episode),
    acknowledgedText(episode),
    treatedText(treatmentsDuring(analysis, animal, episode)),
  ]);
  const day = formatDate(analysis.onDay);
  const one = animals.get(options.animalId ?? "");
  const shown = table(
    options.name ?? "flag-log",
    say("report-flag-log", { day, of: one === undefined ? null : animalLabel(one) }),
    [
      { title: "Animal" },
      { title: "Opened" },
      { title: "Closed" },
      { title: "Opened by", meaning: "Weighings against the budget of false flags, or a rule" },
      { title: "Raised", meaning: "Signals with their first and last day" },
      { title: "Acknowledged", meaning: "By whom and with which note; whether it came back" },
      { title: "Treated while open", meaning: "Medication, fluids and examinations written down" },
    ],
    rows,
    say("report-flag-log-empty", { day }),
  );
  return withTidy(
    shown,
    [
      { title: "Animal" },
      { title: "Opened" },
      { title: "Closed" },
      { title: "Opened by" },
      { title: "Signal" },
      { title: "First on" },
      { title: "Last on" },
      { title: "Acknowledged on" },
      { title: "Acknowledged by" },
      ...done.map((kind) => ({ title: `${kind}, times` })),
    ],
    found.flatMap(({ episode, animal }) => {
      const treated = treatmentsDuring(analysis, animal, episode);
      return episode.signals.map((s): readonly Cell[] => [
        animalLabel(animal),
        episode.openedOn,
        episode.closedOn,
        openedBy(episode),
        s.kind,
        s.firstOn,
        s.lastOn,
        episode.acknowledged?.on ?? null,
        episode.acknowledged?.by ?? null,
        ...done.map((kind) => treated.filter((o) => o.kind === kind).length),
      ]);
    }),
  );
}

interface FlagGroup {
  readonly species: string;
  readonly season: string | null;
  readonly animals: Set<string>;
  readonly episodes: Episode[];
}

/** Episodes counted: how many, opened by what, how long, acknowledged, treated. */
export function flagSeasonsTable(analysis: StudyAnalysis): Table {
  const animals = new Map(analysis.animals.map((a) => [a.animalId, a]));
  const groups = new Map<string, FlagGroup>();
  const keyOf = (a: AnimalAnalysis) => `${a.species}, ${a.season ?? "season not written"}`;
  for (const animal of analysis.animals) {
    const group = groups.get(keyOf(animal)) ?? {
      species: animal.species,
      season: animal.season,
      animals: new Set(),
      episodes: [],
    };
    group.animals.add(animal.animalId);
    groups.set(keyOf(animal), group);
  }
  for (const episode of analysis.flags.value.episodes) {
    const animal = animals.get(episode.animalId);
    if (animal !== undefined) groups.get(keyOf(animal))?.episodes.push(episode);
  }
  const count = (episodes: readonly Episode[], holds: (e: Episode) => boolean) =>
    episodes.filter(holds).length;
  const columns = ["n animals", "Animals flagged", "Episodes", "By weighings", "By a rule"];
  const more = ["Acknowledged", "Came back", "Treated while open", "Not closed"];
  return table(
    "flag-seasons",
    say("report-flag-seasons", { day: formatDate(analysis.onDay) }),
    [
      { title: "Species" },
      { title: "Season" },
      ...[...columns, ...more].map((title) => ({ title, align: "number" as const })),
    ],
    [...groups]
      .sort(([a], [b]) => (a < b ? -1 : 1))
      .map(([, { species, season, animals: members, episodes }]) => [
        species,
        season ?? "not written",
        members.size,
        new Set(episodes.map((e) => e.animalId)).size,
        episodes.length,
        count(episodes, (e) => e.openedBy === "statistical"),
        count(episodes, (e) => e.openedBy === "rule"),
        count(episodes, (e) => e.acknowledged !== null || e.reopened.length > 0),
        count(episodes, (e) => e.reopened.length > 0),
        count(episodes, (e) => treatmentsDuring(analysis, animals.get(e.animalId)!, e).length > 0),
        count(episodes, (e) => e.closedOn === null),
      ]),
    "No animal.",
  );
}

/** Animals of the latest season of each species: what a reader of today needs of the log. */
export function ofLatestSeason(analysis: StudyAnalysis): (animal: AnimalAnalysis) => boolean {
  const latest = new Map<string, string>();
  for (const { species, season } of analysis.animals) {
    if (season !== null && season > (latest.get(species) ?? "")) latest.set(species, season);
  }
  return (animal) => animal.season === (latest.get(animal.species) ?? null);
}

function closing(episode: Episode, animal: AnimalAnalysis): string {
  if (episode.endedWithRecord === true)
    return `${formatDate(episode.closedOn ?? "")}, ${say("report-flag-left")}`;
  if (episode.closedOn !== null) return episode.closedOn;
  return animal.inCare ? "open" : say("report-flag-left");
}

function raisedText(episode: Episode): string {
  return episode.signals
    .map(({ kind, firstOn, lastOn }) => `${kind} (${formatDays(firstOn, lastOn)})`)
    .join("; ");
}

function acknowledgedText(episode: Episode): string {
  const { acknowledged, reopened } = episode;
  const parts = [
    ...reopened.map(({ on, why }) => say("report-flag-reopened", { on, why })),
    ...(acknowledged === null
      ? []
      : [
          say("report-flag-acknowledged", {
            on: acknowledged.on,
            by: acknowledged.by,
            note: acknowledged.note,
          }),
        ]),
  ];
  return parts.length === 0 ? say("report-flag-not-acknowledged") : parts.join("; ");
}

function treatmentsDuring(analysis: StudyAnalysis, animal: AnimalAnalysis, episode: Episode) {
  const { zone, feedingDayStartHour: hour } = analysis.settings;
  const { from } = feedingDaySpan(episode.openedOn, zone, hour);
  const { to } = feedingDaySpan(episode.closedOn ?? analysis.onDay, zone, hour);
  return animal.series.signs.filter(
    (s) => done.includes(s.kind) && s.state !== "none" && s.at >= from && s.at < to,
  );
}

function treatedText(rows: ReturnType<typeof treatmentsDuring>): string {
  const texts = done.flatMap((kind) => {
    const n = rows.filter((o) => o.kind === kind).length;
    return n === 0 ? [] : [`${kind} ${n}`];
  });
  return texts.length === 0 ? say("report-flag-nothing-written") : texts.join(", ");
}
