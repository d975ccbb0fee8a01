import { type Notice, notice } from "../core/notice.js";
import type { HousingRow, SetAsideRow, Study } from "../records/study.js";
import { plausibleMass } from "../species/plausible-mass.js";
import { profileOf } from "../species/profile-of.js";
import { feedingDayOf, localNoon } from "../units/calendar.js";
import { dayMs } from "../units/day-ms.js";
import { ageBasis } from "./age-basis.js";
import type {
  AgeBasis,
  AnimalRow,
  AnimalSeries,
  DailyMass,
  DecisionRow,
  FeedRow,
  NetWeighing,
  SeriesFeed,
  StudySeries,
  StudySettings,
  WeighingRow,
} from "./animal-series.js";
import { applyDecisions, type DecidedWeighing } from "./apply-decisions.js";
import { chooseDaily } from "./choose-daily.js";
import { findFeedSlips } from "./find-feed-slips.js";
import { findSlips } from "./find-slips.js";
import { kitchenBatches } from "./kitchen-batches.js";
import { orderAt } from "./orders/order-steps.js";
import { type AnimalOrders, ordersOf, unusedOrder } from "./orders/orders-of.js";
import { doubtedFeed, type Kitchen, seriesFeed } from "./series-feeds.js";
import type { Sign } from "./signs/sign.js";
import { signsOf } from "./signs/signs-of.js";
import { withNotes } from "./signs/with-notes.js";

export interface SeriesOptions {
  /** What a person decided about suspected slips. Default: the study's own decisions. */
  readonly decisions?: readonly DecisionRow[];
  /** Look for slips of the pen. Default true. */
  readonly slips?: boolean;
  /**
   * The feeds to be kept once all were looked at: all of them, or of long records those
   * that are doubted or have notes. Everything else is the same. Default "all".
   */
  readonly feeds?: "all" | "doubted or noted";
}

/**
 * Turns the tables of a study into one history per animal. The order of rows in
 * the files does not matter; animals come in order of their names.
 *
 * Phases: ages; net masses; slips, over all animals together; the weighing that
 * stands for each feeding day; feeds with what was in them; the rest.
 *
 * @example buildSeries(await readStudy("data-demo")).animals[0]?.daily.length
 */
export function buildSeries(study: Study, options: SeriesOptions = {}): StudySeries {
  const { tables, settings } = study;
  const animals = [...lastStays(tables.animals), ...(study.standIns ?? [])].sort((a, b) =>
    compare(a.animalId, b.animalId),
  );
  const decided = applyDecisions(tables, options.decisions ?? study.decisions ?? []);
  const weighings = grouped(decided.weighings, (w) => w.animalId);
  const observations = grouped(decided.observations, (o) => o.animalId);
  const plans = grouped(tables.plans, (p) => p.animalId);
  const asideOrders = study.setAside.filter((row) => row.table === "plans");
  const housing = grouped(tables.housing, (h) => h.animalId ?? "");
  const groupFeeds = tables.feeds.filter((f) => f.groupId !== null);
  const diets = new Map(tables.diets.map((d) => [d.dietId, d]));
  const kitchen: Kitchen = {
    diets,
    batches: new Map(tables.batches.map((b) => [b.batchId, b])),
    made: kitchenBatches(diets, tables.batches, tables.ingredients),
    held: new Map(),
  };

  const net = animals.map((animal) => {
    const age = ageBasis(animal, settings.zone);
    const rows = weighings.get(animal.animalId) ?? [];
    return {
      animalId: animal.animalId,
      animal,
      age,
      weighings: inOrder(rows, (w) => weighingOrder(w.row)).map((w) =>
        netWeighing(w, animal, age, settings),
      ),
    };
  });
  const slips = options.slips === false ? null : findSlips(net, settings.zone);

  const keepsAll = options.feeds !== "doubted or noted";
  const read = new Map<string, Sign>();
  const histories = net.map(({ animalId, animal, age, weighings: bare }) => {
    const found = slips?.get(animalId);
    const limits = massLimits(animal, settings);
    return {
      animalId,
      animal,
      age,
      chosen: chooseDaily(
        bare.map((w, i) => ({ ...w, slip: settled(w) ? null : (found?.[i] ?? null) })),
        settings,
        (w) => !settled(w) && w.netG !== null && limits(w.netG, w.ageD),
      ),
      feeds: keptIf(keepsAll, () =>
        inOrder(
          decided.feedsOf(animalId).map((f) => seriesFeed(f, kitchen, settings)),
          (f) => feedOrder(f.row),
        ),
      ),
    };
  });
  const orders = new Map(
    histories.map(({ animalId }) => [
      animalId,
      ordersOf(
        plans.get(animalId) ?? [],
        kitchen.diets,
        settings,
        asideOrders.filter((row) => namesAnimal(row, animalId)),
      ),
    ]),
  );
  const doubted =
    options.slips === false
      ? null
      : findFeedSlips(
          histories.map(({ animalId, chosen, feeds: own }) => ({
            animalId,
            feeds: own,
            massAt: massAt(chosen.daily),
            orderedG: orderedG(orders.get(animalId)!),
          })),
        );

  return {
    settings,
    animals: histories.map(({ animalId, animal, age, chosen, feeds: written }): AnimalSeries => {
      const slips = doubted?.get(animalId);
      const own = written().map((feed, i) => {
        const slip = feed.decision === undefined ? slips?.get(i) : undefined;
        return slip === undefined ? feed : doubtedFeed(feed, slip);
      });
      const shared = inOrder(sharedWith(housing.get(animalId) ?? [], groupFeeds), feedOrder);
      const seen = inOrder(observations.get(animalId) ?? [], (o) => `${o.kind}|${o.valueText}`);
      return {
        animal,
        age,
        weighings: chosen.weighings,
        daily: chosen.daily,
        feeds: keepsAll ? own : own.filter((f) => f.slip !== undefined || f.row.notes !== null),
        sharedFeeds: shared,
        signs: withNotes(signsOf(seen, settings, read), chosen.weighings, own, settings),
        orders: orders.get(animalId)!,
        span: spanOf(animal, settings.zone, [...chosen.weighings, ...own, ...seen, ...shared]),
        notices: animalNotices(animal, age, chosen.weighings, own),
      };
    }),
    batches: inOrder(
      [...kitchen.made.values()].map((b) => ({ ...b, at: b.madeAt })),
      (b) => b.batchId,
    ).map(({ at: _, ...batch }) => batch),
    scaleChecks: inOrder(tables.scaleChecks, (c) => `${c.scaleId}|${c.knownG}`),
    events: inOrder(tables.events, (e) => `${e.scope}|${e.kind}`),
    ordersOfNobody: asideOrders
      .filter((row) => !animals.some((a) => namesAnimal(row, a.animalId)))
      .map(unusedOrder),
    ...(study.answers === undefined ? {} : { answers: study.answers }),
    notices: decided.notices,
  };
}

/** Whether a row that was set aside is about an animal: its name stands in one of the cells. */
const namesAnimal = (row: SetAsideRow, animalId: string) =>
  row.raw.some((cell) => cell.trim() === animalId);

/** Of an animal that came back, its latest stay, with what only an earlier row says of its birth. */
function lastStays(rows: readonly AnimalRow[]): AnimalRow[] {
  const byId = new Map<string, AnimalRow>();
  const arrival = (row: AnimalRow) => row.admittedAt ?? Number.NEGATIVE_INFINITY;
  for (const row of rows) {
    const other = byId.get(row.animalId);
    if (other === undefined) {
      byId.set(row.animalId, row);
      continue;
    }
    const [earlier, later] = arrival(row) < arrival(other) ? [row, other] : [other, row];
    const born = later.birthDateEarliest === null ? earlier : later;
    byId.set(row.animalId, {
      ...later,
      name: later.name ?? earlier.name,
      sex: later.sex === "unknown" ? earlier.sex : later.sex,
      birthDateEarliest: born.birthDateEarliest,
      birthDateLatest: born.birthDateLatest,
      birthDateBasis: born.birthDateBasis,
    });
  }
  return [...byId.values()];
}

/** A person has looked at it: it is no longer under suspicion. */
const settled = (w: NetWeighing) => w.decision !== undefined;

function netWeighing(
  { row, at, massG, tareG, decision }: DecidedWeighing,
  animal: AnimalRow,
  age: AgeBasis,
  settings: StudySettings,
): NetWeighing {
  const blankIsZero = settings.blankTareIsZero && row.unread?.["tareG"] === undefined;
  const tare = tareG ?? (blankIsZero ? 0 : null);
  const out = decision?.decision === "leave out";
  const netG = tare === null || massG - tare <= 0 || out ? null : massG - tare;
  return {
    row,
    at,
    feedingDay: feedingDayOf(at, settings.zone, settings.feedingDayStartHour),
    netG,
    ageD: age.birth === null ? null : (at - age.birth) / dayMs,
    sinceAdmissionD: animal.admittedAt === null ? null : (at - animal.admittedAt) / dayMs,
    standing: "shown only",
    why: notice("series-other-stands", "info"),
    slip: null,
    ...(decision === null ? {} : { decision }),
  };
}

/** Whether a net mass at an age is impossible for the species. */
function massLimits(animal: AnimalRow, settings: StudySettings) {
  const profile = profileOf(animal.species, settings.speciesOverrides);
  return (netG: number, ageD: number | null): boolean => {
    const limits = plausibleMass(profile, ageD === null ? null : Math.max(0, ageD));
    return limits !== null && (netG < limits.impossible[0] || netG > limits.impossible[1]);
  };
}

/** The daily mass last before an instant, or the first one; its days in order. */
function massAt(daily: readonly DailyMass[]) {
  let k = 0;
  return (at: number): number | null => {
    // Feeds are asked about in order of time; an earlier one begins again.
    if (daily[k] !== undefined && daily[k]!.at > at) k = 0;
    while (k + 1 < daily.length && daily[k + 1]!.at <= at) k++;
    return daily[k]?.massG ?? null;
  };
}

/** Grams a feed ordered of a diet at an instant, lines that nobody ended included. */
function orderedG(orders: AnimalOrders) {
  return (dietId: string | null, at: number): number[] => {
    const { lines, notEnded } = orderAt(orders, at);
    return [...lines, ...notEnded].flatMap((line) =>
      line.gPerFeed !== null && (line.dietId === null || line.dietId === dietId)
        ? [line.gPerFeed]
        : [],
    );
  };
}

/** Feeds of a group while this animal was housed in it. */
function sharedWith(housing: readonly HousingRow[], groupFeeds: readonly FeedRow[]): FeedRow[] {
  const stays = housing.filter((h) => h.groupId !== null);
  if (stays.length === 0) return [];
  return groupFeeds.filter((f) =>
    stays.some((h) => h.groupId === f.groupId && f.at >= h.from && (h.to === null || f.at < h.to)),
  );
}

function spanOf(
  animal: AnimalRow,
  zone: string,
  records: readonly { readonly at: number }[],
): AnimalSeries["span"] {
  const instants = records.map((r) => r.at);
  if (animal.admittedAt !== null) instants.push(animal.admittedAt);
  if (animal.outcomeDate !== null && animal.outcome !== "in care")
    instants.push(localNoon(animal.outcomeDate, zone));
  if (instants.length === 0) return null;
  let from = Number.POSITIVE_INFINITY;
  let to = Number.NEGATIVE_INFINITY;
  for (const at of instants) {
    if (at < from) from = at;
    if (at > to) to = at;
  }
  return { from, to };
}

function animalNotices(
  animal: AnimalRow,
  age: AgeBasis,
  weighings: readonly NetWeighing[],
  feeds: readonly SeriesFeed[],
): Notice[] {
  const place = { animal: animal.animalId };
  const found: Notice[] = [];
  if (weighings.length === 0) found.push(notice("series-no-weighings", "problem", {}, place));
  if (age.birth === null) found.push(notice("series-age-unknown", "caution", {}, place));
  else if (animal.birthDateBasis === "mass")
    found.push(notice("series-age-from-mass", "caution", {}, place));
  else if (!age.usableForWeightForAge)
    found.push(notice("series-age-of-unknown-basis", "caution", {}, place));
  else if (age.rangeDays !== null && age.rangeDays > 3)
    found.push(notice("series-age-range", "caution", { days: age.rangeDays }, place));
  const blank = weighings.filter((w) => w.netG === null).length;
  if (blank > 0)
    found.push(
      notice("series-tares-blank", "caution", { count: blank, of: weighings.length }, place),
    );
  const slips = weighings.filter((w) => w.slip !== null).length;
  found.push(...gaps(weighings, place));
  if (slips > 0) found.push(notice("series-slips", "caution", { count: slips }, place));
  const doubted = feeds.filter((f) => f.slip !== undefined).length;
  if (doubted > 0) found.push(notice("series-feed-slips", "caution", { count: doubted }, place));
  return found;
}

/** Days without a usable weighing: more than three, and three times this animal's usual. */
function gaps(weighings: readonly NetWeighing[], place: Notice["place"] & object): Notice[] {
  const times = weighings.filter((w) => w.netG !== null && w.slip === null).map((w) => w.at);
  const steps = times.slice(1).map((at, i) => (at - times[i]!) / dayMs);
  const usual = steps.slice().sort((a, b) => a - b)[steps.length >> 1] ?? 1;
  return steps.flatMap((days, i) =>
    days > Math.max(3, 3 * usual)
      ? [notice("series-gap", "info", { days, from: times[i]! }, place)]
      : [],
  );
}

function grouped<T>(rows: readonly T[], key: (row: T) => string): Map<string, T[]> {
  const groups = new Map<string, T[]>();
  for (const row of rows) {
    const name = key(row);
    const list = groups.get(name);
    if (list === undefined) groups.set(name, [row]);
    else list.push(row);
  }
  return groups;
}

/** The same again each time it is asked for: kept from the first time on, or made anew. */
function keptIf<T>(keeps: boolean, make: () => T): () => T {
  let known: T | undefined;
  return () => {
    if (!keeps) return make();
    known ??= make();
    return known;
  };
}

/** By time, then by content, so that the order in the file never matters. */
function inOrder<T extends { readonly at: number }>(
  rows: readonly T[],
  content: (row: T) => string,
): T[] {
  return rows.slice().sort((a, b) => a.at - b.at || compare(content(a), content(b)));
}

const weighingOrder = (w: WeighingRow) =>
  `${w.scaleId}|${w.massG}|${w.tareG}|${w.method}|${w.coat}|${w.meal}`;
const feedOrder = (f: FeedRow) => `${f.dietId}|${f.batchId}|${f.offeredG}|${f.refusedG}|${f.route}`;
const compare = (a: string, b: string) => (a < b ? -1 : a > b ? 1 : 0);
