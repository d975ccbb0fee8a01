import { describe, expect, it } from "vitest";
import type {
  BatchRow,
  DietRow,
  FeedRow,
  StudySettings,
  SuspectedFeedSlip,
} from "../../src/series/animal-series.js";
import type { KitchenBatch } from "../../src/series/kitchen-batches.js";
import { doubtedFeed, type Kitchen, seriesFeed } from "../../src/series/series-feeds.js";

/** The feeding day begins at 06:00; a batch was made at 04:00, two hours before the feed. */
const at = Date.UTC(2025, 4, 1, 6);
const hour = 3_600_000;
const diet = (dietId: string, energyKcalPerG: number, more: Partial<DietRow> = {}) =>
  ({
    dietId,
    kind: "formula",
    energyKcalPerG,
    waterPct: 80,
    densityGPerMl: 1.03,
    useByH: 24,
    ...more,
  }) as DietRow;
const milk = diet("milk", 1);
const mash = diet("mash", 2, { kind: "solid", densityGPerMl: null, useByH: null });
const batch = (more: Partial<BatchRow> = {}) =>
  ({ batchId: "b1", dietId: "milk", madeAt: at - 2 * hour, useByH: 12, ...more }) as BatchRow;
const made = (from: KitchenBatch["from"], energyKcalPerG: number, dietId = "milk") =>
  ({ batchId: "b1", dietId, from, composition: { energyKcalPerG } }) as unknown as KitchenBatch;
const kitchen = (own: KitchenBatch | null = null, row: BatchRow | null = batch()): Kitchen => ({
  diets: new Map([milk, mash].map((d) => [d.dietId, d])),
  batches: new Map(row === null ? [] : [["b1", row]]),
  made: new Map(own === null ? [] : [["b1", own]]),
  held: new Map(),
});
const row = (more: Partial<FeedRow> = {}) =>
  ({ at, dietId: "milk", batchId: null, offeredG: 50, refusedG: 0, ...more }) as FeedRow;
const settings = (more: Partial<StudySettings> = {}) =>
  ({ zone: "UTC", feedingDayStartHour: 6, blankRefusalIsNone: false, ...more }) as StudySettings;
const feed = (more: Partial<FeedRow> = {}, own: Kitchen = kitchen(), how = settings()) =>
  seriesFeed({ row: row(more), decision: null }, own, how);
const eaten = (f: ReturnType<typeof feed>) => [f.eatenG, f.eatenLowG, f.eatenHighG];

describe("what was eaten of a feed", () => {
  it("is what was offered less what was refused", () => {
    expect(eaten(feed({ refusedG: 12 }))).toEqual([38, 38, 38]);
    expect(eaten(feed({ refusedG: 50 }))).toEqual([0, 0, 0]);
    expect(feed({ refusedG: 12 })).toMatchObject({
      at,
      feedingDay: "2025-05-01",
      offeredG: 50,
      dietId: "milk",
    });
  });

  it("of a blank refusal lies between nothing and all, unless the study says that blank means none", () => {
    expect(eaten(feed({ refusedG: null }))).toEqual([null, 0, 50]);
    const none = settings({ blankRefusalIsNone: true });
    expect(eaten(feed({ refusedG: null }, kitchen(), none))).toEqual([50, 50, 50]);
    // "?" is no blank.
    const asked = { refusedG: null, unread: { refusedG: "?" } } as Partial<FeedRow>;
    expect(eaten(feed(asked, kitchen(), none))).toEqual([null, 0, 50]);
    expect(
      eaten(feed({ refusedG: null, unread: { notes: "?" } } as Partial<FeedRow>, kitchen(), none)),
    ).toEqual([50, 50, 50]);
  });

  it("is not known where more was refused than offered", () => {
    expect(eaten(feed({ refusedG: 51 }))).toEqual([null, 0, 50]);
  });

  it("of a doubted feed is a range over all that may have been meant", () => {
    const slip = { eatenLowG: 5, eatenHighG: 45 } as SuspectedFeedSlip;
    const doubted = doubtedFeed(feed(), slip);
    expect([...eaten(doubted), doubted.slip]).toEqual([null, 5, 45, slip]);
  });
});

describe("what was in a feed", () => {
  const energy = (f: ReturnType<typeof feed>) => f.composition?.energyKcalPerG ?? null;
  it("is what its batch holds, else what its diet says", () => {
    expect(energy(feed())).toBe(1);
    expect(energy(feed({ batchId: "b1" }, kitchen(made("entered", 1.3))))).toBe(1.3);
    expect(energy(feed({ batchId: "b1" }, kitchen(made("diet", 1.1))))).toBe(1.1);
    expect(energy(feed({ batchId: "b1" }, kitchen(null)))).toBe(1);
    expect(feed().composition).toMatchObject({ kind: "formula", waterPct: 80 });
  });

  it("is that of a batch of another diet only by numbers of its own", () => {
    const other = (from: KitchenBatch["from"]) =>
      energy(feed({ batchId: "b1", dietId: "mash" }, kitchen(made(from, 1.3))));
    expect([other("entered"), other("ingredients"), other("diet")]).toEqual([1.3, 1.3, 2]);
    const kind = feed({ batchId: "b1", dietId: "mash" }, kitchen(made("entered", 1.3))).composition
      ?.kind;
    expect(kind).toBe("solid");
  });

  it("is the diet of its batch where the feed names none, and not known of a diet in no table", () => {
    expect(feed({ dietId: null, batchId: "b1" })).toMatchObject({
      dietId: "milk",
      densityGPerMl: 1.03,
    });
    expect(feed({ dietId: null })).toMatchObject({
      dietId: null,
      composition: null,
      densityGPerMl: null,
      useByH: null,
    });
    expect(feed({ dietId: "krill" })).toMatchObject({ dietId: "krill", composition: null });
    expect(feed({ dietId: "mash" }).densityGPerMl).toBeNull();
  });

  it("is one record for all feeds of one diet and batch, so that a long study stays small", () => {
    const own = kitchen(made("entered", 1.3));
    const first = feed({ batchId: "b1" }, own).composition;
    expect(feed({ batchId: "b1" }, own).composition).toBe(first);
    expect(feed({ batchId: "b1", dietId: "mash" }, own).composition).not.toBe(first);
    expect(feed({}, own).composition).not.toBe(first);
  });
});

describe("how old a feed was", () => {
  it("is told by its batch, and by when it is used up by the batch before the diet", () => {
    expect(feed({ batchId: "b1" })).toMatchObject({ batchAgeH: 2, useByH: 12 });
    expect(feed()).toMatchObject({ batchAgeH: null, useByH: 24 });
    expect(feed({ batchId: "b1" }, kitchen(null, batch({ useByH: null }))).useByH).toBe(24);
    expect(feed({ batchId: "b2" })).toMatchObject({ batchAgeH: null, useByH: 24 });
    expect(feed({ dietId: "mash" }).useByH).toBeNull();
  });
});

describe("what people decided about a feed", () => {
  it("stays beside it, and nothing stands there where nobody did", () => {
    expect("decision" in feed()).toBe(false);
    const decision = { decision: "keep" } as NonNullable<
      Parameters<typeof seriesFeed>[0]["decision"]
    >;
    expect(seriesFeed({ row: row(), decision }, kitchen(), settings()).decision).toBe(decision);
  });
});
