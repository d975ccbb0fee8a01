import type { AnimalAnalysis, StudyAnalysis } from "../analysis/study-analysis.js";
import { noticeText } from "../core/catalogue.js";
import { formatDate, formatMass, formatNumber, localText, screenWording } from "../units/format.js";
import { type Block, caution, list, type Section, section, table, text } from "./section.js";
import { animalLabel } from "./tables/animal-label.js";

const hourMs = 3_600_000;
const outputs = new Set(["urine", "stool", "vomit", "regurgitation", "bloat"]);
const treatments = new Set(["medication", "fluids", "exam"]);

/** The animals in care, one section each, up to their last record of the day looked at. */
export function handOverSections(analysis: StudyAnalysis): Section[] {
  const inCare = analysis.animals.filter((a) => a.inCare);
  if (inCare.length === 0) {
    return [section("Nobody in care", [list(["No animal is in care on the day looked at."])])];
  }
  const until = Math.max(...inCare.map((a) => lastRecord(a)));
  return inCare.map((animal) => handOverSection(analysis, animal, until));
}

/** The last feed, weighing or observation of an animal. */
function lastRecord(animal: AnimalAnalysis): number {
  const { feeds, weighings, observations } = animal.series;
  return Math.max(
    0,
    ...[feeds.at(-1), weighings.at(-1), observations.at(-1)].map((r) => r?.at ?? 0),
  );
}

/**
 * What the next shift needs to know of one animal, on one screen: the last 24
 * hours of feeds against the plan, what came out, temperature, mass, treatments
 * and open flags. `until` is an instant; nothing after it is shown.
 */
export function handOverSection(
  analysis: StudyAnalysis,
  animal: AnimalAnalysis,
  until: number,
): Section {
  const { zone } = analysis.settings;
  const { series } = animal;
  const from = until - 24 * hourMs;
  const within = <Row extends { readonly at: number }>(rows: readonly Row[]) =>
    rows.filter((row) => row.at > from && row.at <= until);
  const feeds = within(series.feeds);
  const clock = (at: number) => localText(at, zone).slice(5);
  const low = sum(feeds.map((f) => f.eatenLowG));
  const high = sum(feeds.map((f) => f.eatenHighG));
  const planned = plannedPerDay(animal, until);
  const last = [...series.daily].reverse().find((d) => d.at <= until) ?? null;
  const eaten =
    low === high
      ? `${formatNumber(low)} g`
      : `between ${formatNumber(low)} and ${formatNumber(high)} g (refusals not written)`;
  const wording = screenWording(zone);
  const lines = [
    last === null
      ? "No usable weighing."
      : `Mass ${formatMass(last.massG)} on ${formatDate(last.feedingDay)}${last.at <= from ? " (not within these 24 hours)" : ""}.`,
    feeds.length === 0
      ? "No feed was written down in these 24 hours."
      : `${feeds.length} feeds, ${formatNumber(sum(feeds.map((f) => f.offeredG)))} g offered, ${eaten} eaten.`,
    planned === null
      ? "No plan is on record."
      : `Planned ${formatNumber(planned)} g a day; eaten ${share(low, high, planned)} of it.`,
    ...(animal.day === null ? [] : [noticeText(animal.day.sentence, wording)]),
    ...(animal.day?.raised ?? []).map((signal) => noticeText(signal.sentence, wording)),
  ];
  const seen = within(series.observations);
  const rowsOf = (kinds: ReadonlySet<string>) =>
    seen
      .filter((o) => kinds.has(o.kind))
      .map((o) => [
        clock(o.at),
        o.kind,
        [o.valueText, shownUnit(o.unit), o.notes].filter((x) => x !== null).join(" "),
      ]);
  const columns = [{ title: "When" }, { title: "What" }, { title: "As written" }];
  const blocks: Block[] = [
    text(`The 24 hours up to ${localText(until, zone)} (${zone}).`),
    list(lines),
    table(
      "feeds",
      "Feeds of the last 24 hours.",
      [
        { title: "When" },
        { title: "Diet" },
        { title: "Offered", unit: "g", align: "number" },
        { title: "Refused", unit: "g", align: "number" },
        { title: "Eaten", unit: "g", align: "number" },
        { title: "Route" },
      ],
      feeds.map((f) => [clock(f.at), f.dietId, f.offeredG, f.row.refusedG, f.eatenG, f.row.route]),
      "No feed in the last 24 hours.",
    ),
    table(
      "outputs",
      "What came out.",
      columns,
      rowsOf(outputs),
      "Nothing was written about urine, stool or vomit.",
    ),
    table(
      "temperature",
      "Temperature.",
      columns,
      rowsOf(new Set(["temperature"])),
      "No temperature was taken.",
    ),
    table(
      "treatments",
      "Treatments and examinations.",
      columns,
      rowsOf(treatments),
      "No treatment or examination was written down.",
    ),
  ];
  blocks.push(
    caution("Not a diagnosis. If in doubt about an animal, ask the attending veterinarian now."),
  );
  return section(`${animalLabel(animal)}, ${series.animal.species}`, blocks, {
    id: `hand-over-${animal.animalId}`,
  });
}

/** Grams a day by the plans in force at an instant; null without one that says how much and how often. */
function plannedPerDay(animal: AnimalAnalysis, until: number): number | null {
  const inForce = animal.series.plans.filter(
    (p) => p.from <= until && (p.to === null || p.to >= until),
  );
  const amounts = inForce.flatMap((p) => {
    const times = p.feedsPerDay ?? (p.feedTimes.length > 0 ? p.feedTimes.length : null);
    return p.gPerFeed === null || times === null ? [] : [p.gPerFeed * times];
  });
  return amounts.length === 0 ? null : sum(amounts);
}

function share(low: number, high: number, planned: number): string {
  const percent = (g: number) => formatNumber((100 * g) / planned, 3);
  return low === high ? `${percent(low)} %` : `${percent(low)} to ${percent(high)} %`;
}

function sum(values: readonly number[]): number {
  return values.reduce((a, b) => a + b, 0);
}

/** Records write units in plain letters. */
function shownUnit(unit: string | null): string | null {
  return unit === "degC" ? "°C" : unit === "degF" ? "°F" : unit;
}
