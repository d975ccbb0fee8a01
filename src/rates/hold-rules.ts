import { type Notice, notice } from "../core/notice.js";
import type { Result } from "../core/result.js";
import type { AnimalSeries, StudySettings } from "../series/animal-series.js";
import { orderAt } from "../series/orders/order-steps.js";
import { isSurelyPresent, mayBePresent, type Sign } from "../series/signs/sign.js";
import { profileOf } from "../species/profile-of.js";
import type { SpeciesProfile } from "../species/species-profile.js";
import { dayMs } from "../units/day-ms.js";
import { signAlerts } from "./sign-alerts.js";

/**
 * The editable limits. `null` switches a rule off. The hours are common practice
 * or our own choice, not from a source: the attending veterinarian sets them.
 */
export interface HoldLimits {
  /** Hours after admission in which only an entered plan feeds. */
  readonly admissionH: number | null;
  /** Oldest temperature allowed in the very young, h. */
  readonly temperatureH: number | null;
  /** Whether the last temperature must lie in the species range. */
  readonly temperatureInRange: boolean;
  /** Hours for which vomit, regurgitation or bloat holds. */
  readonly lostFeedH: number | null;
  /** Hours for which another danger that forbids feeding holds. */
  readonly dangerSignH: number | null;
  /** Longest time without a recorded stool, and without recorded urine, h. */
  readonly stoolH: number | null;
  readonly urineH: number | null;
  /**
   * Age below which stool and urine are judged, d; `null`: at every age. Older
   * young that live in a pool are no longer seen to pass every one.
   */
  readonly excretionUnderD: number | null;
  /** Oldest weighing allowed, h. */
  readonly weighingH: number | null;
  /** Whether a last mass under suspicion of a slip holds. */
  readonly suspectedMass: boolean;
  /** Hours for which a feed under suspicion of a slip holds. */
  readonly suspectedFeedH: number | null;
}

export const defaultHoldLimits: HoldLimits = {
  admissionH: 72,
  temperatureH: 12,
  temperatureInRange: true,
  lostFeedH: 24,
  dangerSignH: 24,
  stoolH: 48,
  urineH: 48,
  excretionUnderD: 28,
  weighingH: 36,
  suspectedMass: true,
  suspectedFeedH: 24,
};

export type HoldRule =
  | "recent admission without a plan"
  | "temperature outside the range"
  | "temperature missing or old"
  | "temperature in doubt"
  | "danger sign"
  | "vomit, regurgitation or bloat"
  | "no stool"
  | "no urine"
  | "no recent weighing"
  | "mass under suspicion"
  | "feed under suspicion";

export interface HoldReason {
  readonly rule: HoldRule;
  readonly notice: Notice;
}

export interface HoldState {
  readonly animalId: string;
  readonly at: number;
  /** True while any rule holds: no grams then, "hold: ask the veterinarian". */
  readonly hold: boolean;
  readonly reasons: readonly HoldReason[];
  readonly limits: HoldLimits;
}

export interface HoldOptions {
  /** The instant judged; only data up to it are looked at. */
  readonly at: number;
  readonly settings: Pick<StudySettings, "speciesOverrides">;
  readonly profile?: SpeciesProfile;
  readonly limits?: Partial<HoldLimits>;
}

const hourMs = 3_600_000;

/**
 * Whether feeding amounts for an animal must wait for the veterinarian. Holds
 * while any of these is true: admitted under 72 h ago without an entered plan;
 * last temperature outside the species range, or older than 12 h (or none) in
 * the very young (also where the age is not known); vomit, regurgitation or
 * bloat, or (in the very young) no stool or urine, within the set hours; no
 * weighing within 36 h;
 * the last mass, or a feed of the last 24 h, under suspicion of a slip. A missing record holds: what nobody
 * wrote down is not taken as good news.
 *
 * @example holdRules(series, { at, settings }).value // { hold: true, reasons: [{ rule: "no recent weighing", ... }] }
 */
export function holdRules(
  series: AnimalSeries,
  options: HoldOptions,
): Result<"hold-rules", HoldState> {
  const limits: HoldLimits = { ...defaultHoldLimits, ...options.limits };
  const { at } = options;
  const profile =
    options.profile ?? profileOf(series.animal.species, options.settings.speciesOverrides);
  const animal = series.animal.animalId;
  const reasons: HoldReason[] = [];
  const hold = (rule: HoldRule, why: Notice) => reasons.push({ rule, notice: why });
  const past = series.signs.filter((sign) => sign.at <= at);
  const hoursAgo = (then: number) => (at - then) / hourMs;
  // Nothing recorded yet counts from the admission on.
  const admitted = series.animal.admittedAt ?? series.span?.from ?? null;

  // The youngest the animal can be decides; an unknown age counts as very young.
  const birth = series.age.birthLatest;
  const ageD = birth === null ? null : (at - birth) / dayMs;

  const { state, lines } = orderAt(series.orders, at);
  const planned =
    state === "nil by mouth" || lines.some((l) => l.perFeed !== null || l.perDay !== null);
  if (limits.admissionH !== null && !planned) {
    if (admitted === null) {
      hold(
        "recent admission without a plan",
        notice("hold-admission-unknown", "problem", { animal }),
      );
    } else if (hoursAgo(admitted) < limits.admissionH) {
      const hours = hoursAgo(admitted);
      hold(
        "recent admission without a plan",
        notice("hold-admission", "problem", { animal, hours, limit: limits.admissionH }),
      );
    }
  }
  holdTemperature(animal, past, ageD, at, profile, limits, hold);
  if (limits.lostFeedH !== null) {
    const last = lastWhere(past, (s) => lostFeed(s) !== null && hoursAgo(s.at) < limits.lostFeedH!);
    if (last !== null) {
      // What cannot be read is shown word for word beside the rule that it holds.
      if (last.question !== null) hold("vomit, regurgitation or bloat", last.question);
      hold(
        "vomit, regurgitation or bloat",
        notice("hold-lost-feed", "problem", {
          animal,
          kind: lostFeed(last)!,
          hours: hoursAgo(last.at),
          limit: limits.lostFeedH,
        }),
      );
    }
  }
  if (limits.dangerSignH !== null) {
    const since = at - limits.dangerSignH * hourMs;
    for (const alert of signAlerts(past)) {
      if (alert.at <= since || alert.act !== "do not feed until spoken") continue;
      hold("danger sign", alert.sentence);
    }
  }
  const under = limits.excretionUnderD;
  for (const kind of ["stool", "urine"] as const) {
    const limit = kind === "stool" ? limits.stoolH : limits.urineH;
    if (limit === null || (under !== null && ageD !== null && ageD >= under)) continue;
    const last = lastWhere(past, (sign) => sign.kind === kind && isSurelyPresent(sign));
    const since = last?.at ?? admitted;
    if (since === null || hoursAgo(since) > limit) {
      const hours = since === null ? null : hoursAgo(since);
      hold(
        kind === "stool" ? "no stool" : "no urine",
        notice("hold-none-recorded", "problem", { animal, kind, hours, limit }),
      );
    }
  }
  holdMass(series, at, limits, hold);
  if (limits.suspectedFeedH !== null) {
    const doubted = series.feeds.filter(
      (f) => f.slip !== undefined && f.at <= at && hoursAgo(f.at) < limits.suspectedFeedH!,
    );
    for (const { offeredG, at: fedAt, slip } of doubted)
      hold(
        "feed under suspicion",
        notice("hold-feed-suspected", "problem", {
          animal,
          offered: offeredG,
          at: fedAt,
          low: slip!.eatenLowG,
          high: slip!.eatenHighG,
        }),
      );
  }
  return {
    kind: "hold-rules",
    schema: 1,
    value: { animalId: animal, at, hold: reasons.length > 0, reasons, limits },
    method: {
      name: "Hold rules",
      options: { at, limits, species: profile.species },
      citations: [],
    },
    basis: { used: past.length, leftOut: [], of: "observations" },
    diagnostics: {},
    notices: reasons.map((r) => r.notice),
  };
}

type Hold = (rule: HoldRule, why: Notice) => void;

function holdTemperature(
  animal: string,
  past: readonly Sign[],
  ageD: number | null,
  at: number,
  profile: SpeciesProfile,
  limits: HoldLimits,
  hold: Hold,
): void {
  const taken = past.filter((s) => s.kind === "temperature" && s.state !== "not looked");
  const last = lastWhere(taken, (s) => s.measure !== null);
  const unread = taken
    .filter((s) => s.measure === null && (last === null || s.at >= last.at))
    .at(-1);
  if (limits.temperatureInRange && last !== null) {
    // Several at one time, or one in doubt: the worse one counts.
    const same = taken.filter((s) => s.at === last.at && s.measure !== null);
    const lowest = Math.min(...same.map((s) => s.measure!.low));
    const highest = Math.max(...same.map((s) => s.measure!.high));
    const range = profile.bodyTemperature?.range ?? null;
    if (range === null) {
      hold(
        "temperature outside the range",
        notice("hold-temperature-no-range", "problem", { animal, species: profile.species }),
      );
    } else if (lowest < range[0] || highest > range[1]) {
      hold(
        "temperature outside the range",
        notice("hold-temperature-range", "problem", {
          animal,
          degC: lowest < range[0] ? lowest : highest,
          written: last.written,
          at: last.at,
          inDoubt: !last.sure,
          low: range[0],
          high: range[1],
        }),
      );
    }
  }
  const doubted = unread ?? (last?.sure === false ? last : undefined);
  if (limits.temperatureInRange && doubted !== undefined && doubted.question !== null)
    hold("temperature in doubt", doubted.question);
  if (limits.temperatureH === null) return;
  const veryYoung = ageD === null || ageD < profile.veryYoung.value;
  if (!veryYoung) return;
  const limit = limits.temperatureH;
  if (last === null) {
    hold(
      "temperature missing or old",
      notice("hold-temperature-none", "problem", { animal, limit }),
    );
  } else if ((at - last.at) / hourMs > limit) {
    const hours = (at - last.at) / hourMs;
    hold(
      "temperature missing or old",
      notice("hold-temperature-old", "problem", { animal, hours, limit }),
    );
  }
}

function holdMass(series: AnimalSeries, at: number, limits: HoldLimits, hold: Hold): void {
  const animal = series.animal.animalId;
  const weighings = series.weighings.filter((w) => w.at <= at && w.netG !== null && w.netG > 0);
  const last = weighings.at(-1);
  if (limits.weighingH !== null) {
    const good = weighings.filter((w) => w.standing !== "suspected slip").at(-1);
    const hours = good === undefined ? null : (at - good.at) / hourMs;
    if (hours === null || hours > limits.weighingH) {
      hold(
        "no recent weighing",
        notice("hold-weighing", "problem", { animal, hours, limit: limits.weighingH }),
      );
    }
  }
  if (limits.suspectedMass && last?.standing === "suspected slip") {
    hold(
      "mass under suspicion",
      notice("hold-mass-suspected", "problem", { animal, mass: last.netG, at: last.at }),
    );
  }
}

/** What came up or may have, and bloat; null for a line that tells of neither. */
function lostFeed(sign: Sign): "vomit" | "regurgitation" | "bloat" | null {
  for (const kind of ["vomit", "regurgitation", "bloat"] as const)
    if (sign.kind === kind ? mayBePresent(sign) : sign.findings.includes(kind)) return kind;
  return null;
}

function lastWhere(rows: readonly Sign[], fits: (sign: Sign) => boolean): Sign | null {
  let last: Sign | null = null;
  for (const sign of rows) if (fits(sign) && (last === null || sign.at >= last.at)) last = sign;
  return last;
}
