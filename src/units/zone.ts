import { Temporal } from "temporal-polyfill";
import { UsageError } from "../core/usage-error.js";
import { dayMs } from "./day-ms.js";

/** Milliseconds since 1970-01-01T00:00Z. */
export type Instant = number;

/**
 * The clock of one IANA time zone with its changes already worked out, so that
 * turning millions of instants into local time needs no calendar object each.
 * Get one with {@link zoneClock}; it is cached for the process and holds
 * nothing but what the zone data say.
 */
export interface ZoneClock {
  readonly zone: string;
  /** Offset of local time from UTC at an instant, in ms (east is positive). */
  offsetAt(at: Instant): number;
}

const clocks = new Map<string, ZoneClock>();
const YEAR = 366 * dayMs;

/**
 * The clock of a zone. Offsets agree with `Temporal` (tests compare them), but
 * each stretch of 366 days is asked for once and then kept.
 *
 * @throws UsageError when the zone is not an IANA name.
 * @example zoneClock("Europe/Berlin").offsetAt(Date.UTC(2025, 6, 1)) // 7_200_000
 */
export function zoneClock(zone: string): ZoneClock {
  const kept = clocks.get(zone);
  if (kept !== undefined) return kept;
  if (!isZone(zone)) {
    throw new UsageError({
      needed: 'an IANA time zone such as "Europe/Berlin" or "America/Los_Angeles"',
      came: `"${zone}" came, which is none`,
      where: "study time zone",
      todo: "Correct zone in study.json.",
    });
  }
  const stretches = new Map<number, Stretch>();
  let last: Stretch | undefined;
  let lastIndex = Number.NaN;
  const clock: ZoneClock = {
    zone,
    offsetAt(at) {
      const index = Math.floor(at / YEAR);
      let stretch = index === lastIndex ? last : stretches.get(index);
      if (stretch === undefined) {
        stretch = readStretch(zone, index * YEAR, (index + 1) * YEAR);
        stretches.set(index, stretch);
      }
      last = stretch;
      lastIndex = index;
      const { changes, offsets } = stretch;
      let i = changes.length;
      while (i > 0 && at < changes[i - 1]!) i--;
      return offsets[i]!;
    },
  };
  clocks.set(zone, clock);
  return clock;
}

/** Whether a text is a time zone this machine's zone data know. */
export function isZone(zone: string): boolean {
  if (!/^[A-Za-z][A-Za-z0-9_+\-/]*$/.test(zone)) return false;
  try {
    new Temporal.ZonedDateTime(0n, zone);
    return true;
  } catch {
    return false;
  }
}

/** Changes of offset inside a stretch of time, in order; offsets has one more entry. */
interface Stretch {
  readonly changes: readonly Instant[];
  readonly offsets: readonly number[];
}

function readStretch(zone: string, from: Instant, to: Instant): Stretch {
  let at = Temporal.Instant.fromEpochMilliseconds(from).toZonedDateTimeISO(zone);
  const changes: Instant[] = [];
  const offsets = [at.offsetNanoseconds / 1e6];
  for (;;) {
    const next = at.getTimeZoneTransition("next");
    if (next === null || next.epochMilliseconds >= to) break;
    at = next;
    changes.push(at.epochMilliseconds);
    offsets.push(at.offsetNanoseconds / 1e6);
  }
  return { changes, offsets };
}
