/**
 * Invented nurseries from worlds of their own: nothing here comes from `src`, so
 * that what the library assumes of growth, weighing and error is not assumed here.
 * Daily steps of relative gain: a growth law, times what the animal has of its own,
 * times a gain that wanders with a memory, times checks and dips; on the scale gut
 * fill that lasts, independent error with heavy tails, and irregular days.
 *
 * The ranges are wide guesses of our own (common practice in hand-rearing: daily
 * weighing at first, then twice to four times a week), not measured in any nursery.
 */
export interface World {
  readonly name: string;
  readonly law: readonly ("gompertz" | "logistic" | "linear")[];
  /** Ranges from which each nursery draws: [lowest, highest], evenly. */
  readonly gain: Range;
  readonly spread: Range;
  readonly betweenSeasons: number;
  readonly wander: Range;
  readonly memoryD: Range;
  readonly gut: Range;
  readonly gutCorrelation: Range;
  readonly error: Range;
  /** Degrees of freedom of the independent error; 0 for normal. */
  readonly tails: number;
  /** Days of daily weighing after arrival, and weighings a week after that. */
  readonly dailyD: Range;
  readonly perWeek: Range;
  /** Share of animals with a check at arrival, with a dip at weaning, and with a week missed. */
  readonly arrivalCheck: number;
  readonly weaningDip: number;
  readonly missedWeek: number;
}

type Range = readonly [number, number];

export interface Nursery {
  /** Animals in each season; the last season is the one looked at. */
  readonly seasons: readonly number[];
  /** One animal of the last season gains `share` of what it should from `fromD` days after arrival on. */
  readonly affected?: {
    readonly animal: number;
    readonly fromD: number;
    readonly share: number;
    /** Instead of gaining a share it falls by so much of its mass over so many days, then gains again. */
    readonly fall?: { readonly by: number; readonly overD: number };
  };
  /** All animals of the last season gain `share` from this day of the season on. */
  readonly allFrom?: { readonly day: number; readonly share: number };
  /** Factor on the nursery's gain: other nurseries differ. */
  readonly gainFactor?: number;
}

export interface WorldAnimal {
  readonly id: string;
  readonly season: number;
  /** Day number of arrival; seasons begin 365 days apart. */
  readonly arrival: number;
  /** Day number from which its gain is short; null for a healthy one. */
  readonly shortFrom: number | null;
  /** Per weighing: day number, age in days, and ln mass as read. */
  readonly day: readonly number[];
  readonly age: readonly number[];
  readonly logMass: readonly number[];
  /** ln of the true mass (no gut fill, no error) at the start of each day in care, and after the last. */
  readonly trueLogMass: readonly number[];
}

/** A stream of random numbers of its own (xorshift multiply, 32 bits). */
export function stream(seed: number) {
  let a = (seed ^ 0x9e3779b9) >>> 0 || 1;
  const uniform = () => {
    a = (a + 0x6d2b79f5) >>> 0;
    let t = a;
    t = Math.imul(t ^ (t >>> 15), t | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
  const normal = () => Math.sqrt(-2 * Math.log(1 - uniform())) * Math.cos(2 * Math.PI * uniform());
  const between = ([low, high]: Range) => low + (high - low) * uniform();
  return { uniform, normal, between };
}

type Stream = ReturnType<typeof stream>;

/** Draws one nursery of a world. */
export function drawNursery(world: World, nursery: Nursery, seed: number): WorldAnimal[] {
  return drawTrueNursery(world, nursery, seed).animals;
}

/** The same with what it was drawn from: what nobody in a nursery knows. */
export function drawTrueNursery(
  world: World,
  nursery: Nursery,
  seed: number,
): { readonly house: House; readonly ofSeason: number; readonly animals: WorldAnimal[] } {
  const r = stream(seed);
  for (let i = 0; i < 8; i++) r.uniform();
  const house = {
    law: world.law[Math.floor(r.uniform() * world.law.length)]!,
    gain: r.between(world.gain) * (nursery.gainFactor ?? 1),
    fade: r.between([0.006, 0.014]),
    spread: r.between(world.spread),
    wander: r.between(world.wander),
    memory: r.between(world.memoryD),
    gut: r.between(world.gut),
    rho: r.between(world.gutCorrelation),
    error: r.between(world.error),
    dailyD: r.between(world.dailyD),
    perWeek: r.between(world.perWeek),
    weaningAge: r.between([45, 60]),
    arrivalsOver: r.between([15, 45]),
  };
  const animals: WorldAnimal[] = [];
  let ofSeason = 1;
  nursery.seasons.forEach((count, season) => {
    const last = season === nursery.seasons.length - 1;
    ofSeason = Math.exp(world.betweenSeasons * r.normal());
    for (let i = 0; i < count; i++) {
      animals.push(drawAnimal(world, house, r, season, ofSeason, last ? nursery : null, i));
    }
  });
  return { house, ofSeason, animals };
}

function drawAnimal(
  world: World,
  house: Readonly<Record<Exclude<keyof House, "law">, number>> & { readonly law: string },
  r: Stream,
  season: number,
  ofSeason: number,
  nursery: Nursery | null,
  index: number,
): WorldAnimal {
  const arrival = season * 365 + Math.floor(house.arrivalsOver * r.uniform());
  const age0 = r.between([3, 14]);
  const stay = Math.floor(r.between([55, 75]));
  const own = Math.exp(house.spread * r.normal());
  const fade = house.fade * Math.exp(0.1 * r.normal());
  const birth = Math.log(1900) + 0.1 * r.normal();
  const adult = Math.log(r.between([16_000, 22_000]));
  const check = r.uniform() < world.arrivalCheck ? r.between([0.02, 0.06]) : 0;
  const dips = r.uniform() < world.weaningDip;
  const dipAge = house.weaningAge + 4 * r.normal();
  const dipD = r.between([3, 6]);
  const missedFrom = r.uniform() < world.missedWeek ? Math.floor(r.between([10, 45])) : -1;
  const affected = nursery?.affected?.animal === index ? nursery.affected : null;
  const shortFrom = affected === null ? null : arrival + affected.fromD;
  let y = birth + house.gain * own * age0;
  const y0 = y;
  let wander = house.wander * r.normal();
  let gut = house.gut * r.normal();
  const day: number[] = [];
  const age: number[] = [];
  const logMass: number[] = [];
  const trueLogMass = [y];
  for (let d = 0; d < stay; d++) {
    const t = age0 + d;
    const today = arrival + d;
    let rate = house.gain * own * ofSeason;
    if (house.law === "gompertz") rate *= Math.exp(-fade * t);
    else if (house.law === "logistic") rate *= Math.max(0.1, 1 - Math.exp(y - adult)) / 0.9;
    else rate *= Math.exp(y0 - y);
    rate *= 1 + wander;
    if (check > 0 && d < 2) rate = -check / 2;
    else if (check > 0 && d < 6) rate += check / 4;
    if (dips && t > dipAge && t < dipAge + dipD) rate *= 0.4;
    if (shortFrom !== null && today >= shortFrom) {
      const { share, fall } = affected!;
      if (fall === undefined) rate *= share;
      else if (today < shortFrom + fall.overD) rate = Math.log(1 - fall.by) / fall.overD;
    }
    const all = nursery?.allFrom;
    if (all !== undefined && today - season * 365 >= all.day) rate *= all.share;
    const missed = missedFrom >= 0 && d >= missedFrom && d < missedFrom + 7;
    const often = d < house.dailyD || r.uniform() < house.perWeek / 7;
    if (often && !missed && r.uniform() > 0.03) {
      const clock = 0.08 * r.normal();
      day.push(today);
      age.push(t + clock);
      const mass = y + rate * clock + gut + house.error * tail(r, world.tails);
      // Scales show 5 g steps.
      logMass.push(Math.log(Math.max(1, Math.round(Math.exp(mass) / 5)) * 5));
    }
    y += rate;
    trueLogMass.push(y);
    const keep = Math.exp(-1 / house.memory);
    wander = keep * wander + house.wander * Math.sqrt(1 - keep * keep) * r.normal();
    gut = house.rho * gut + house.gut * Math.sqrt(1 - house.rho ** 2) * r.normal();
  }
  return { id: `S${season}-${index}`, season, arrival, shortFrom, day, age, logMass, trueLogMass };
}

/** What one nursery drew from its world. */
export interface House {
  law: string;
  gain: number;
  fade: number;
  spread: number;
  wander: number;
  memory: number;
  gut: number;
  rho: number;
  error: number;
  dailyD: number;
  perWeek: number;
  weaningAge: number;
  arrivalsOver: number;
}

/** Standard normal, or Student's t scaled to unit variance. */
function tail(r: Stream, df: number): number {
  if (df === 0) return r.normal();
  let chi = 0;
  for (let i = 0; i < df; i++) chi += r.normal() ** 2;
  return (r.normal() / Math.sqrt(chi / df)) * Math.sqrt((df - 2) / df);
}
