import { feedingDayOf, numberOfDate, readLocal } from "../units/calendar.js";

/** A quarter of an hour: every change of the clocks since 1972 falls on such a bound. */
export const BUCKET = 900_000;
/** No single feeding day: ask the calendar about the time itself. */
export const ASK = -2_000_000;

/**
 * The feeding day (as a count of days) of a quarter of an hour, worked out once
 * for each and kept: looking it up is what makes reading millions of times
 * cheap. `local` takes wall-clock quarters, `utc` those of instants. `ASK`
 * where a time does not exist, happens twice, or lies too far away.
 */
export function dayOfBucket(zone: string, startHour: number) {
  const dayAt = (at: number) => numberOfDate(feedingDayOf(at, zone, startHour));
  const local = kept((bucket) => {
    const read = readLocal(bucket * BUCKET, zone);
    const last = readLocal(bucket * BUCKET + BUCKET - 1, zone);
    if (read.kind !== "instant" || last.kind !== "instant") return ASK;
    return dayAt(read.at) === dayAt(last.at) ? dayAt(read.at) : ASK;
  });
  const utc = kept((bucket) => {
    const at = bucket * BUCKET;
    return dayAt(at) === dayAt(at + BUCKET - 1) ? dayAt(at) : ASK;
  });
  return { local, utc };
}

/** 1970 to 2100, a page of about three months at a time. */
function kept(make: (bucket: number) => number): (bucket: number) => number {
  const PAGE = 8192;
  const pages: (Int32Array | undefined)[] = new Array(560);
  return (bucket) => {
    const page = (bucket / PAGE) | 0;
    if (bucket < 0 || page >= 560) return ASK;
    const found = (pages[page] ??= new Int32Array(PAGE));
    const at = bucket - page * PAGE;
    let day = found[at]!;
    if (day === 0) {
      // 0 marks what is not worked out yet, so the first of January 1970 is always asked for.
      day = make(bucket);
      found[at] = day === 0 ? ASK : day;
      day = found[at]!;
    }
    return day;
  };
}
