import { type IntakeDay, intakeByDay } from "../rates/intake-by-day.js";
import type { CivilDate, StudySeries } from "../series/animal-series.js";
import { numberOfDate } from "../units/calendar.js";
import { type PreparedAnimal, prepareAnimal } from "./animal-day/prepared-animal.js";
import type { ReplayOptions } from "./replay.js";
import type { ReplayedSoFar } from "./replay-history.js";
import { causalPhases } from "./watch/causal-phases.js";

/** Weighings so many days on still move the smoothed mass that intake is held against. */
const smoothedOverD = 11;

/**
 * What a replay looks up of single animals: each thing once, when it is first asked for, and
 * not at all where a history tells it.
 */
export class ReplayLookups {
  readonly phaseOn: (animalId: string, day: CivilDate) => string | null;
  /** Phases and intake worked out here or taken over. */
  readonly phases = new Map<string, Map<CivilDate, string | null>>();
  readonly intakes = new Map<string, readonly IntakeDay[]>();
  /** First days of an animal's intake that nothing new has moved. */
  private readonly settledIntake = new Map<string, readonly IntakeDay[]>();
  private readonly prepared = new Map<string, PreparedAnimal>();

  constructor(
    private readonly study: StudySeries,
    private readonly options: ReplayOptions,
    before: ReplayedSoFar | null,
    /** Last day, as a number, on which an animal's records agree with those of `before`. */
    agreed: ReadonlyMap<string, number>,
  ) {
    if (before !== null) this.takeOver(before, agreed);
    this.phaseOn = options.phaseOn ?? causalPhases(study, (id) => this.intakeOf(id), this.phases);
  }

  /** What the rules look up of an animal. */
  preparedOf(id: string): PreparedAnimal {
    const known =
      this.prepared.get(id) ??
      prepareAnimal(this.seriesOf(id), this.study.settings, this.intakeOf(id));
    this.prepared.set(id, known);
    return known;
  }

  private intakeOf(id: string): readonly IntakeDay[] {
    const handed = this.options.intakeOf?.(id);
    if (handed !== undefined) return handed;
    const intake = this.intakes.get(id) ?? this.workedOut(id);
    this.intakes.set(id, intake);
    return intake;
  }

  private workedOut(id: string): readonly IntakeDay[] {
    const series = this.seriesOf(id);
    if (series.feeds.length === 0) return [];
    const known = this.settledIntake.get(id) ?? [];
    return intakeByDay(series, { settings: this.study.settings, known }).value;
  }

  private seriesOf(id: string) {
    return this.study.animals.find((a) => a.animal.animalId === id)!;
  }

  private takeOver(before: ReplayedSoFar, agreed: ReadonlyMap<string, number>): void {
    const upToOf = (id: string) => agreed.get(id) ?? Number.NEGATIVE_INFINITY;
    for (const [id, phases] of before.phases) {
      const upTo = upToOf(id);
      this.phases.set(id, new Map([...phases].filter(([day]) => numberOfDate(day) <= upTo)));
    }
    for (const [id, intake] of before.intakes) {
      const upTo = upToOf(id);
      const isSettled = (d: IntakeDay) => numberOfDate(d.feedingDay) < upTo - smoothedOverD;
      if (upTo === Number.POSITIVE_INFINITY) this.intakes.set(id, intake);
      else this.settledIntake.set(id, intake.filter(isSettled));
    }
  }
}
