import { LAST_DAY, RECORDS_END, SEASONS } from "./cast.js";
import { civilDate, clockChanges, localText } from "./clock.js";
import type { PlacedSlip } from "./demo-table.js";
import { BETTER_SEASON, BETTER_USABLE, type Life } from "./life.js";
import { milestonesOf } from "./observe.js";

/** The window over which the truth file states true mean gains, age in days. */
export const WINDOW = { from: 21, to: 84 } as const;

/** What is true of the demo study; read by tests, never by a notebook. */
export function truthOf(
  lives: readonly Life[],
  withoutEffect: readonly Life[],
  slips: readonly PlacedSlip[],
): unknown {
  const treated = (list: readonly Life[]) =>
    list.filter(({ character: c }) => c.species === "sea otter" && c.season >= BETTER_SEASON);
  const meanGain = (list: readonly Life[]) => {
    const gains = treated(list)
      .map(windowGain)
      .filter((g): g is number => g !== null);
    return { n: gains.length, gPerD: round(gains.reduce((a, b) => a + b, 0) / gains.length, 2) };
  };
  return {
    about: "What is true of the invented study. For tests only; no notebook reads this file.",
    betterSeason: {
      season: BETTER_SEASON,
      species: "sea otter",
      cause: "second formula mixture: more of its energy can be used",
      addedUsablePart: BETTER_USABLE,
      windowAgeD: WINDOW,
      trueMeanGain: meanGain(lives),
      sameAnimalsWithoutTheEffect: meanGain(withoutEffect),
    },
    slowGainers: lives
      .filter((l) => l.character.trouble !== null)
      .map(({ character: c }) => ({
        animal: c.id,
        cause: c.trouble!.kind,
        fromAgeD: c.trouble!.fromAge,
        toAgeD: c.trouble!.toAge,
        from: civilDate(c.birthDay + c.trouble!.fromAge),
        to: civilDate(c.birthDay + c.trouble!.toAge),
        factor: c.trouble!.factor,
        trulySlow: c.trouble!.kind !== "scale drifts",
      })),
    /** Nights of a change of the clocks that lie within the records. */
    clockNights: SEASONS.map((year) => {
      const { spring, autumn } = clockChanges(year);
      return { spring: civilDate(spring), autumn: autumn > LAST_DAY ? null : civilDate(autumn) };
    }),
    livingDay: livingDay(lives),
    slips,
    animals: lives.map((life) => {
      const c = life.character;
      return {
        animal: c.id,
        birthDate: civilDate(c.birthDay),
        birthMassG: round(c.birthMassG, 0),
        firstSolidAgeD: c.firstSolidAge,
        weanedAgeD: c.weanedAge,
        gainInWindowGPerD: nullable(windowGain(life)),
        milestoneAgeD: Object.fromEntries(milestonesOf(c).map((m) => [m.name, m.age])),
        /** True empty mass at the start of every seventh day: [age in days, g]. */
        mass: life.days
          .filter((d) => d.sinceAdmissionD % 7 === 0)
          .map((d) => [d.ageD, round(d.fromG, 0)]),
      };
    }),
  };
}

/** What stands on the last day, as it was planted: each page is for one of these. */
function livingDay(lives: readonly Life[]): unknown {
  const inCare = lives.filter(
    ({ character: c }) => c.birthDay + c.leavesAge > LAST_DAY && c.admittedDay <= LAST_DAY,
  );
  const of = (wanted: (l: Life) => boolean) => inCare.filter(wanted).map((l) => l.character.id);
  const slow = of((l) => l.character.trouble?.kind === "given less than ordered at night");
  return {
    day: civilDate(LAST_DAY),
    recordsEnd: localText(RECORDS_END),
    inCare: of(() => true),
    danger: of((l) => l.character.lastDay === "vomits"),
    secondLook: [...of((l) => l.character.lastDay === "soft stools"), ...slow],
    measureFirst: ["O25-03"],
    newcomer: of((l) => LAST_DAY - l.character.admittedDay < 7),
    orderBegun: of((l) => l.plans.at(-1)!.fromDay === LAST_DAY),
    scales: { passed: ["bench-1", "bench-2", "floor-1"], old: ["platform-1"] },
  };
}

/** True gain over the window by difference, null where the animal was not in care throughout. */
export function windowGain(life: Life): number | null {
  const from = life.days.find((d) => d.ageD === WINDOW.from);
  const to = life.days.find((d) => d.ageD === WINDOW.to);
  return from === undefined || to === undefined
    ? null
    : (to.fromG - from.fromG) / (WINDOW.to - WINDOW.from);
}

const round = (x: number, digits: number) => Number(x.toFixed(digits));
const nullable = (x: number | null) => (x === null ? null : round(x, 2));
