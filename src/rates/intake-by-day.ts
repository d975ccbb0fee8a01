import { type Notice, notice } from "../core/notice.js";
import type { Result } from "../core/result.js";
import type { NoticeCode } from "../core/sentences.js";
import type { AnimalSeries, CivilDate, StudySettings } from "../series/animal-series.js";
import { smoothedMassAt } from "../series/smoothed-mass.js";
import { addDays, feedingDayOf, feedingDaySpan } from "../units/calendar.js";
import { type Bounds, between, scaleBounds, shareBounds } from "./bounds.js";
import type { EnergyBasis, EnergyChoice } from "./energy-of.js";
import { type FeedParts, feedPartsReader } from "./feed-parts.js";
import { amountOf, type CameUp, cameUpOf, keptOf } from "./kept-intake.js";
import { metabolicPower } from "./nutrition-formulas.js";
import { type UsableFeed, usableFeeds } from "./usable-feeds.js";

export interface IntakeOptions {
  /** Zone and first hour of the feeding day. */
  readonly settings: Pick<StudySettings, "zone" | "feedingDayStartHour">;
  /** How energy comes from a composition. Default "stated, else general". */
  readonly energy?: EnergyChoice;
  /** Only feeding days in [from, to]. Default: from the first fed day to the last. */
  readonly from?: CivilDate;
  readonly to?: CivilDate;
  /** Its first days, where they are worked out already: what they hang on must not have changed. */
  readonly known?: readonly IntakeDay[];
}

/**
 * What one animal took in over one feeding day. Amounts are totals of that day and, where
 * no other is said, of what was eaten; what was kept is eaten less what came up that day.
 */
export interface IntakeDay {
  readonly feedingDay: CivilDate;
  readonly from: number;
  readonly to: number;
  /** 23 or 25 on the days of a clock change. */
  readonly hours: number;
  /** False on the first and last day on record: part of the day may be missing. */
  readonly complete: boolean;
  readonly feeds: number;
  /** How many of them look like slips of the pen; absent where none does. Amounts are ranges over what may be meant. */
  readonly doubted?: number;
  readonly offeredG: number;
  readonly eatenG: Bounds;
  readonly refusedG: Bounds;
  /** Eaten, g, by route ("not given" where blank). */
  readonly byRoute: Readonly<Record<string, Bounds>>;
  readonly formulaG: Bounds;
  readonly solidsG: Bounds;
  readonly dryMatterG: Bounds;
  readonly kcal: Bounds;
  /** For growth, energy and conversion; {@link keptIntake} says what came up. */
  readonly keptG: Bounds;
  readonly keptKcal: Bounds;
  readonly proteinG: Bounds;
  readonly fatG: Bounds;
  /** Water in what was eaten, mL (1 g = 1 mL). */
  readonly waterMl: Bounds;
  /** Volume of what was eaten, mL; high is null where a density is not known. */
  readonly volumeMl: Bounds;
  /** Share of energy from solids, %; null when nothing was eaten. */
  readonly solidsEnergyPct: Bounds | null;
  readonly solidsMassPct: Bounds | null;
  /** Smoothed mass at the start of the feeding day, g; null when not known. */
  readonly massG: number | null;
  readonly shareOfMassPct: Bounds | null;
  /** kcal per kg^0.75. */
  readonly kcalPerMetabolicKg: Bounds | null;
  readonly waterMlPerKg: Bounds | null;
  /** Which energies were used. More than one: the total mixes them. */
  readonly energyBases: readonly EnergyBasis[];
  readonly notices: readonly Notice[];
}

/**
 * Intake of one animal, feeding day by feeding day, days without a recorded
 * feed included (they are a gap in the records or a fast: a notice says so, and
 * nothing limits what may have been eaten). Eaten = offered - refused; a blank
 * refusal makes the day a range. % of body mass and the like use the smoothed
 * mass at the start of the feeding day.
 *
 * @example intakeByDay(otter, { settings }).value[0]?.shareOfMassPct.value // 13.89
 */
export function intakeByDay(
  series: AnimalSeries,
  options: IntakeOptions,
): Result<"intake-by-day", readonly IntakeDay[]> {
  const energy = options.energy ?? "stated, else general";
  const { zone, feedingDayStartHour: startHour } = options.settings;
  const usable = usableFeeds(series);
  const byDay = new Map<CivilDate, UsableFeed[]>();
  for (const each of usable.feeds) {
    const list = byDay.get(each.feed.feedingDay);
    if (list === undefined) byDay.set(each.feed.feedingDay, [each]);
    else list.push(each);
  }
  const shared = new Map<CivilDate, number>();
  for (const row of series.sharedFeeds) {
    const day = feedingDayOf(row.at, zone, startHour);
    shared.set(day, (shared.get(day) ?? 0) + 1);
  }
  const first = usable.feeds[0]?.feed.feedingDay ?? null;
  const last = usable.feeds.at(-1)?.feed.feedingDay ?? null;
  const from = options.from ?? first;
  const to = options.to ?? last;
  const days: IntakeDay[] = [...(options.known ?? [])];
  const known = days.at(-1)?.feedingDay;
  const read = feedPartsReader(energy);
  const cameUp = cameUpOf(series);
  if (from !== null && to !== null) {
    const start = known === undefined ? from : addDays(known, 1);
    for (let day = start; day <= to; day = addDays(day, 1)) {
      const span = feedingDaySpan(day, zone, startHour);
      const edge = day === first || day === last || first === null || day < first || day > last!;
      const up = cameUp.filter((line) => line.at >= span.from && line.at < span.to);
      const fed = byDay.get(day) ?? [];
      days.push(intakeOfDay(series, span, fed, shared.get(day) ?? 0, read, !edge, up));
    }
  }
  const notices = [...usable.notices];
  if (usable.feeds.length === 0) {
    notices.push(
      notice("intake-no-feeds", "caution", { animal: series.animal.animalId }, { table: "feeds" }),
    );
  }
  return {
    kind: "intake-by-day",
    schema: 1,
    value: days,
    method: {
      name: "Eaten per feeding day",
      options: { energy, zone, feedingDayStartHour: startHour, from, to },
      citations: [],
    },
    basis: { used: usable.feeds.length, leftOut: usable.leftOut, of: "feeds" },
    diagnostics: {},
    notices,
  };
}

function intakeOfDay(
  series: AnimalSeries,
  span: { day: CivilDate; from: number; to: number; hours: number },
  feeds: readonly UsableFeed[],
  sharedFeeds: number,
  read: (feed: UsableFeed["feed"]) => FeedParts,
  complete: boolean,
  cameUp: readonly CameUp[],
): IntakeDay {
  const parts = feeds.map((f) => read(f.feed));
  // A feed shared with others, or a day without any record: no upper limit.
  const open = sharedFeeds > 0 || feeds.length === 0;
  const total = (per: (p: FeedParts, i: number) => number | null): Bounds => {
    let low = 0;
    let high: number | null = open ? null : 0;
    for (let i = 0; i < feeds.length; i++) {
      const { eatenG } = feeds[i]!;
      const factor = per(parts[i]!, i);
      const most = eatenG.high ?? 0;
      if (factor === null) {
        if (most > 0) high = null;
        continue;
      }
      low += eatenG.low * factor;
      if (high !== null) high += most * factor;
    }
    return between(low, high);
  };
  const doubted = feeds.filter((f) => f.feed.slip !== undefined).length;
  const offeredG = feeds.reduce((sum, f) => sum + f.feed.offeredG, 0);
  const eatenG = total(() => 1);
  const kcal = total((p) => p.kcalPerG);
  const waterMl = total((p) => p.waterPerG);
  // A diet without a kind may be either: it limits neither side.
  const ofKind = (solid: boolean, per: (p: FeedParts) => number | null) =>
    total((p) => (p.kind === null ? null : (p.kind === "solid") === solid ? per(p) : 0));
  const routes = [...new Set(feeds.map((f) => f.feed.row.route ?? "not given"))];
  const massG = smoothedMassAt(series, span.from).value;
  const perKg = massG === null ? null : 1000 / massG;
  return {
    feedingDay: span.day,
    from: span.from,
    to: span.to,
    hours: span.hours,
    complete,
    feeds: feeds.length,
    ...(doubted === 0 ? {} : { doubted }),
    offeredG,
    eatenG,
    // Of a doubted feed more may have been meant than was written.
    refusedG: between(
      feeds.reduce((sum, f) => sum + Math.max(0, f.feed.offeredG - (f.eatenG.high ?? 0)), 0),
      feeds.reduce((sum, f) => sum + Math.max(0, f.feed.offeredG - f.eatenG.low), 0),
    ),
    byRoute: Object.fromEntries(
      routes.map((route) => [
        route,
        total((_, i) => ((feeds[i]!.feed.row.route ?? "not given") === route ? 1 : 0)),
      ]),
    ),
    formulaG: ofKind(false, () => 1),
    solidsG: ofKind(true, () => 1),
    dryMatterG: total((p) => p.dryMatterPerG),
    kcal,
    keptG: keptOf(eatenG, amountOf(cameUp)),
    keptKcal: keptOf(
      kcal,
      amountOf(cameUp, (feed) => read(feed).kcalPerG),
    ),
    proteinG: total((p) => p.proteinPerG),
    fatG: total((p) => p.fatPerG),
    waterMl,
    volumeMl: total((p) => p.mlPerG),
    solidsEnergyPct: shareBounds(
      ofKind(true, (p) => p.kcalPerG),
      ofKind(false, (p) => p.kcalPerG),
    ),
    solidsMassPct: shareBounds(
      ofKind(true, () => 1),
      ofKind(false, () => 1),
    ),
    massG,
    shareOfMassPct: massG === null ? null : scaleBounds(eatenG, 100 / massG),
    kcalPerMetabolicKg:
      massG === null ? null : scaleBounds(kcal, 1 / (massG / 1000) ** metabolicPower),
    waterMlPerKg: perKg === null ? null : scaleBounds(waterMl, perKg),
    energyBases: [
      ...new Set(parts.flatMap((p) => (p.energyBasis === null ? [] : [p.energyBasis]))),
    ],
    notices: noticesOfDay(series, span.day, feeds, parts, sharedFeeds),
  };
}

function noticesOfDay(
  series: AnimalSeries,
  day: CivilDate,
  feeds: readonly UsableFeed[],
  parts: readonly FeedParts[],
  sharedFeeds: number,
): Notice[] {
  const notices: Notice[] = [];
  const place = { table: "feeds", animal: series.animal.animalId };
  const add = (
    code:
      | "intake-day-without-feeds"
      | "intake-shared-feeds"
      | "intake-refusal-unknown"
      | "intake-feed-doubted",
    n: number,
  ) => {
    if (n > 0) notices.push(notice(code, "caution", { day, n }, place));
  };
  if (feeds.length === 0 && sharedFeeds === 0) add("intake-day-without-feeds", 1);
  add("intake-shared-feeds", sharedFeeds);
  add(
    "intake-refusal-unknown",
    feeds.filter((f) => f.eatenG.value === null && f.feed.slip === undefined).length,
  );
  add("intake-feed-doubted", feeds.filter((f) => f.feed.slip !== undefined).length);
  const eaten = (i: number) => (feeds[i]!.eatenG.high ?? 0) > 0;
  const missing = feeds.filter((f, i) => f.feed.composition === null && eaten(i));
  if (missing.length > 0) {
    const diets = [...new Set(missing.map((f) => f.feed.dietId ?? "blank"))];
    notices.push(
      notice("intake-diet-missing", "caution", { day, n: missing.length, diets }, place),
    );
  }
  const codes = new Map<NoticeCode, { first: Notice; diets: Set<string> }>();
  parts.forEach((p, i) => {
    if (!eaten(i)) return;
    for (const n of p.notices) {
      const entry = codes.get(n.code) ?? { first: n, diets: new Set<string>() };
      entry.diets.add(feeds[i]!.feed.dietId ?? "blank");
      codes.set(n.code, entry);
    }
  });
  for (const { first, diets } of codes.values()) {
    notices.push({ ...first, parameters: { ...first.parameters, diets: [...diets] } });
  }
  return notices;
}
