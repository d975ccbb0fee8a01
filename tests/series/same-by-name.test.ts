import { describe, expect, it } from "vitest";
import type { FeedRow, ObservationRow, SeriesFeed } from "../../src/series/animal-series.js";
import { sameFeed } from "../../src/series/same-feed.js";
import { sameSign } from "../../src/series/signs/same-sign.js";
import type { Sign } from "../../src/series/signs/sign.js";

/**
 * Records with every field that their type has: one that is added to a type does not compile
 * until it stands here, and then fails until it is compared.
 */
const origin = { file: "feeds.csv", line: 2, cell: "D7" };
const feedRow = {
  origin,
  unread: { refusedG: "?" },
  animalId: "P07",
  groupId: null,
  at: 1,
  dietId: "mash",
  batchId: null,
  offeredG: 70,
  refusedG: 5,
  route: "bottle",
  notes: null,
} satisfies Required<FeedRow>;
const feed = {
  row: feedRow,
  at: 1,
  feedingDay: "2031-05-14",
  offeredG: 70,
  eatenG: 65,
  eatenLowG: 65,
  eatenHighG: 65,
  composition: null,
  densityGPerMl: 1.03,
  dietId: "mash",
  batchAgeH: 3,
  useByH: 24,
  slip: undefined as never,
  decision: undefined as never,
} satisfies Required<SeriesFeed>;
const signRow = {
  origin,
  unread: { value: "?" },
  animalId: "P07",
  at: 1,
  kind: "stool",
  value: null,
  valueText: "soft",
  unit: null,
  notes: null,
  decided: "keep",
} satisfies Required<ObservationRow>;
const sign = {
  row: signRow,
  kind: "stool",
  at: 1,
  written: "soft",
  state: "present",
  sure: true,
  measure: null,
  count: null,
  amount: null,
  findings: [],
  saidInWords: [],
  question: null,
} satisfies Required<Sign>;

/** The record with one field after the other saying something else. */
const changed = <R extends object>(record: R): R[] =>
  Object.keys(record).map((name) => ({ ...record, [name]: { other: name } }));

describe("records compared by the names of their fields", () => {
  it("are the same where every field says the same", () => {
    expect(sameFeed(feed, structuredClone(feed))).toBe(true);
    expect(sameSign(sign, structuredClone(sign))).toBe(true);
  });

  it("are not where any field says something else", () => {
    const rows = changed(feedRow).map((row) => ({ ...feed, row }));
    const places = changed(origin).map((place) => ({
      ...feed,
      row: { ...feedRow, origin: place },
    }));
    const feeds: SeriesFeed[] = [...changed(feed).slice(1), ...rows.slice(1), ...places];
    expect(feeds.filter((other) => sameFeed(feed, other))).toEqual([]);
    const lines = changed(signRow).map((row) => ({ ...sign, row }));
    const signs: Sign[] = [...changed(sign).slice(1), ...lines.slice(1)];
    expect(signs.filter((other) => sameSign(sign, other))).toEqual([]);
  });

  it("share what two others that say the same were found to share", () => {
    const held = (fatPct: number) => ({ ...feed, composition: { fatPct } as never });
    const [one, other] = [held(8), held(9)];
    expect(sameFeed({ ...one, at: 2 }, { ...other, at: 2 })).toBe(false);
    expect(sameFeed({ ...one, at: 2 }, { ...other, at: 2 }, [one, other])).toBe(true);
  });
});
