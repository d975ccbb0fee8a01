import { recentDays } from "./among-contemporaries.js";
import { judgeWeighing, shownEvidence } from "./judge-weighing.js";
import type { RunningAnimal } from "./running-animal.js";
import type { SeenDay, WatchStanding } from "./watch-history.js";
import type { WatchOptions, WatchSettings } from "./watch-options.js";
import type { WatchedGroup, WatchState } from "./watched-day.js";
import { type ReadWeighing, WatchedSeason } from "./watched-season.js";

/** A season's animals weighed within so many days are its group. */
const groupWithinD = 7;

/** An animal last weighed longer ago is expected nothing of. */
const expectWithinD = 14;

/**
 * A group that is stepped through day by day. A step is the same whatever is asked of it:
 * what its days say is worked out only where it is not known already.
 */
export class WatchSteps implements WatchStanding {
  readonly works: readonly RunningAnimal[];
  readonly seasons: Map<string, WatchedSeason>;
  private readonly seasonOf = new Map<RunningAnimal, WatchedSeason>();
  /** What today's weighings were expected to be, from when they were read. */
  private readings: ReadonlyMap<RunningAnimal, ReadWeighing> = new Map();
  private readonly placeOf: ReadonlyMap<RunningAnimal, number>;
  /** Animals whose first value is still to come, the last to come first. */
  private readonly toCome: RunningAnimal[];
  /** Those with more to be read, in order: of many seasons nearly all are read to their end. */
  private reading: RunningAnimal[];
  /** Those weighed within the last days, in order. */
  private lately: RunningAnimal[];

  constructor(
    standing: WatchStanding,
    private readonly settings: WatchSettings,
    private readonly asked: WatchOptions,
  ) {
    this.works = standing.works;
    this.seasons = new Map(standing.seasons);
    for (const season of this.seasons.values())
      for (const w of season.works) this.seasonOf.set(w, season);
    this.placeOf = new Map(this.works.map((w, place) => [w, place]));
    this.reading = this.works.filter((w) => w.count > 0);
    this.lately = this.reading;
    this.toCome = this.works
      .filter((w) => w.count === 0 && w.source.day.length > 0)
      .sort((a, b) => b.source.day[0]! - a.source.day[0]!);
  }

  /** Reads on to the end of a day: every weighing is expected, compared and taken in. */
  readDay(day: number): void {
    this.readings = new Map();
    this.beginReading(day);
    for (const w of this.reading) {
      w.advance(day);
      this.endRecord(w, day);
    }
    this.reading = this.reading.filter((w) => !isReadWhole(w));
    // Every day, weighed or not: the steps hang on the records alone, not on what is asked.
    for (const season of this.seasons.values()) season.mixture.settle();
    const weighed = this.reading.filter((w) => w.today);
    if (weighed.length === 0) return;
    this.beginSeasons(weighed);
    this.lately = this.inPlace(new Set([...this.lately, ...weighed])).filter((w) =>
      isLately(w, day),
    );
    const readings = new Map<RunningAnimal, ReadWeighing>();
    const seasonsOfToday = new Set(weighed.map((w) => this.seasonOf.get(w)));
    for (const season of this.seasons.values()) {
      if (!seasonsOfToday.has(season)) continue;
      const own = season.works.filter((w) => w.today);
      const expected = own.map((w) => season.expect(w));
      own.forEach((w, i) => {
        readings.set(w, season.read(w, expected[i]!.expected, expected[i]!.scale));
      });
      season.mixture.settle();
    }
    this.readings = readings;
  }

  /** Animals whose first value is of that day or before it. */
  private beginReading(day: number): void {
    const { toCome } = this;
    if (!(toCome.length > 0 && toCome.at(-1)!.source.day[0]! <= day)) return;
    while (toCome.length > 0 && toCome.at(-1)!.source.day[0]! <= day)
      this.reading.push(toCome.pop()!);
    this.reading = this.inPlace(this.reading);
  }

  private inPlace(some: Iterable<RunningAnimal>): RunningAnimal[] {
    return [...some].sort((a, b) => this.placeOf.get(a)! - this.placeOf.get(b)!);
  }

  /** What the day that was read says of every animal weighed on it. */
  judgeDay(day: number): SeenDay[] {
    if (this.readings.size === 0) return [];
    const { works, settings, lately } = this;
    const stateOf = this.statesOnce();
    const recentGain = new Map(lately.map((w) => [w, w.windowGain(settings.gainDays)]));
    const judged = { day, works, recentGain, settings };
    return lately.flatMap((w): SeenDay[] => {
      const season = this.seasonOf.get(w);
      const reading = this.readings.get(w);
      if (season === undefined || reading === undefined) return [];
      const state = stateOf(season);
      const seen = judgeWeighing(this.placeOf.get(w)!, season, state, reading, judged);
      return [{ id: w.source.id, seen, state }];
    });
  }

  /** What the animals not weighed that day would weigh and gain. */
  expectUnweighed(day: number): void {
    const { seeUnweighed } = this.asked;
    if (seeUnweighed === undefined) return;
    const stateOf = this.statesOnce();
    this.works.forEach((w, animal) => {
      const season = this.seasonOf.get(w);
      if (season === undefined || w.today || w.series.state === null) return;
      const sinceD = day - w.lastDay;
      if (sinceD > expectWithinD) return;
      const expected = season.expectedAt(w, w.lastTime + sinceD, 0);
      seeUnweighed({ animal, day, index: w.count - 1, sinceD, expected }, stateOf(season));
    });
  }

  /** What each season's animals show together, where two or more were weighed within a week. */
  seeGroups(day: number, seeGroup: (group: WatchedGroup) => void): void {
    for (const [season, own] of this.seasons) {
      const inCare = own.works.filter((w) => day - w.lastDay < groupWithinD && w.series.count >= 2);
      if (inCare.length < 2) continue;
      const change = own.commonChange();
      if (change === null) continue;
      const level = own.levelShift();
      seeGroup({
        season,
        day,
        animals: inCare.map((w) => this.works.indexOf(w)),
        evidence: shownEvidence(change.evidence),
        since: Math.ceil(change.since),
        missing: change.missing,
        se: change.se,
        fromTheFirst: level && {
          since: Math.min(...own.works.map((w) => w.source.day[0]!)),
          evidence: shownEvidence(level.evidence),
          missing: level.missing,
          se: level.se,
        },
      });
    }
  }

  /** The state of each season today, worked out once. */
  private statesOnce(): (season: WatchedSeason) => WatchState {
    const states = new Map<WatchedSeason, WatchState>();
    return (season) => {
      const state = states.get(season) ?? season.state();
      states.set(season, state);
      return state;
    };
  }

  /** Seasons that begin today, each told what those before it have shown. */
  private beginSeasons(weighed: readonly RunningAnimal[]): void {
    const earlier = [...this.seasons.values()];
    for (const w of weighed) {
      if (this.seasonOf.has(w)) continue;
      const key = w.source.season ?? "";
      let season = this.seasons.get(key);
      if (season === undefined) {
        const summaries = earlier.map((s) => s.summary());
        season = WatchedSeason.begun(this.settings.weakGain, this.settings.priors, summaries);
        this.seasons.set(key, season);
      }
      season.works.push(w);
      this.seasonOf.set(w, season);
    }
  }

  /** Once a record has ended, what followed says which of its values serve the others. */
  private endRecord(w: RunningAnimal, day: number): void {
    const { ended } = w.source;
    if (ended == null || day <= ended.day || w.serves === ended.serves) return;
    w.serves = ended.serves;
    if (w.series.count === 0) return;
    const serves = Array.from(ended.serves.subarray(0, w.series.count), (v) => v !== 0);
    if (serves.some((v, j) => v !== w.series.serves[j]))
      this.seasonOf.get(w)!.mixture.serveInstead(w.series, serves);
    // One that was weighed after it left is still to be read.
    if (!w.today && w.count === w.source.time.length) w.series.close();
  }
}

/** Whether nothing more can be read of an animal, nor told of its end. */
function isReadWhole({ count, today, source, serves }: RunningAnimal): boolean {
  const { ended } = source;
  return !today && count === source.day.length && (ended == null || serves === ended.serves);
}

const isLately = (w: RunningAnimal, day: number) => day - w.lastDay <= recentDays;
