import { type Random, seededRandom } from "../../src/core/random.js";
import { dayNumber, instantOf } from "./clock.js";

/** What is true of one invented animal. Nothing of this is in the tables except by its effects. */
export interface Character {
  readonly id: string;
  readonly name: string;
  readonly species: "sea otter" | "harbour seal";
  readonly sex: "female" | "male" | "unknown";
  readonly season: string;
  /** Day number and minute of the day of birth and admission. */
  readonly birthDay: number;
  readonly admittedDay: number;
  readonly admittedMinute: number;
  readonly birthMassG: number;
  readonly admissionMassG: number;
  readonly basis: "observed" | "teeth" | "pelage" | "umbilicus" | "mass" | "unknown";
  /** Written birth range: days before and after the true day. */
  readonly range: readonly [number, number];
  /** Multiplies wanted gain, maintenance need and the usable part of the energy. */
  readonly appetite: number;
  readonly maintenance: number;
  readonly usable: number;
  /** Ages in days. */
  readonly firstSolidAge: number;
  readonly weanedAge: number;
  readonly leavesAge: number;
  readonly fastDays: number;
  readonly illnesses: readonly Illness[];
  readonly trouble: Trouble | null;
  readonly ending: "released" | "long-term care" | "transferred" | "died" | "in care";
  /** What is seen of it in the last 24 h of the records. */
  readonly lastDay: "vomits" | "soft stools" | null;
  readonly seed: number;
}

export interface Illness {
  readonly fromAge: number;
  readonly days: number;
  readonly kind: "loose stool" | "cough" | "skin";
  /** Multiplies what it eats meanwhile. */
  readonly appetite: number;
}

/** One of the true causes of a slow (or seemingly slow) gain, or of death. */
export interface Trouble {
  readonly kind:
    | "given less than ordered at night"
    | "converts poorly after illness"
    | "scale drifts"
    | "fails";
  readonly fromAge: number;
  readonly toAge: number;
  readonly factor: number;
}

/** The last feeding day in the records, in mid-season: animals still there are in care. */
export const LAST_DAY = dayNumber(2025, 7, 16);
/** The records end with that feeding day, after the night's feeds: whoever looks later sees a whole day. */
export const RECORDS_END = instantOf(LAST_DAY + 1, 5 * 60 + 45);

const otterNames = [
  "Zubrelo,Vintisk,Plorrimo,Yibbervane,Oxtimble",
  "Umbrazzle,Hobzintle,Nuvverip,Prindiboo,Squamblet",
  "Lozzengrit,Puddivex,Rumbizzle,Skoffelty,Tazzlewump",
  "Crintoffle,Doffimuck,Hushimble,Kerbuzzle,Lurkimoss,Mazzigrout,Nimbozzle",
].map((line) => line.split(","));

const sealNames = [
  "Murgazel,Jorbustle,Klaffanoo",
  "Cazzumble,Bervixo,Gloopertin",
  "Wubberline,Zaffergum,Blimmeroo",
  "Quippelune,Sploddery,Twizzamer,Ubbletwig",
].map((line) => line.split(","));

/** The seasons; the last one is not over when the records end. */
export const SEASONS = [2022, 2023, 2024, 2025] as const;

/** All animals of the study, from one seed. */
export function castOf(seed: number): Character[] {
  const random = seededRandom(seed);
  return SEASONS.flatMap((year, s) => [
    ...otterNames[s]!.map((name, i) => otter(year, i, name, random.split(year * 100 + i))),
    ...sealNames[s]!.map((name, i) => seal(year, i, name, random.split(year * 100 + 50 + i))),
  ]);
}

const clip = (x: number, low: number, high: number) => Math.min(high, Math.max(low, x));

/**
 * Admission days of the otters (month, day): spread so that nights of both clock changes
 * fall to small pups, and so that the unfinished season has a newcomer in its first week.
 */
const otterArrivals = [
  [2, 22],
  [4, 5],
  [5, 12],
  [6, 20],
  [9, 25],
] as const;
const otterArrivalsOfLast = [
  [2, 22],
  [3, 30],
  [4, 28],
  [5, 20],
  [6, 6],
  [7, 12],
  [6, 13],
] as const;

function otter(year: number, i: number, name: string, r: Random): Character {
  const id = `O${String(year).slice(2)}-0${i + 1}`;
  const isLast = year === SEASONS.at(-1);
  const [month, day] = (isLast ? otterArrivalsOfLast : otterArrivals)[i]!;
  const admittedDay = dayNumber(year, month, day) + (isLast ? 0 : r.below(9) - 4);
  const age = clip(Math.round(3 + 9 * r.exponential()), 1, 34);
  const birthMassG = clip(1780 + 140 * r.normal(), 1450, 2200);
  const lean = 0.03 + 0.09 * r.uniform();
  const admissionMassG = birthMassG * Math.exp(0.0115 * age - lean);
  const basis = age <= 7 ? "umbilicus" : (["pelage", "teeth"] as const)[r.below(2)]!;
  const spread = basis === "umbilicus" ? 1 : 2;
  const base: Character = {
    id,
    name,
    species: "sea otter",
    sex: r.uniform() < 0.5 ? "female" : "male",
    season: String(year),
    birthDay: admittedDay - age,
    admittedDay,
    admittedMinute: 540 + r.below(600),
    birthMassG,
    admissionMassG,
    basis,
    range: [r.below(spread), r.below(spread + 1)],
    appetite: clip(1 + 0.04 * r.normal(), 0.92, 1.08),
    maintenance: Math.exp(0.006 * r.normal()),
    usable: 0.95,
    firstSolidAge: clip(Math.round(37 + 3 * r.normal()), 31, 45),
    weanedAge: clip(Math.round(112 + 6 * r.normal()), 98, 126),
    leavesAge: clip(Math.round(140 + 4 * r.normal()), 132, 148),
    fastDays: 0,
    illnesses: illnessesOf(r, 66, 120),
    trouble: null,
    ending: r.uniform() < 0.55 ? "released" : "long-term care",
    lastDay: null,
    seed: year * 1000 + i,
  };
  return settled({ ...base, ...special(id, base) });
}

function seal(year: number, i: number, name: string, r: Random): Character {
  const id = `S${String(year).slice(2)}-0${i + 1}`;
  const admittedDay =
    year === SEASONS.at(-1)
      ? dayNumber(year, 5, 26) + i * 10
      : dayNumber(year, 5, 26) + i * 7 + r.below(9);
  const age = 1 + r.below(9);
  const birthMassG = clip(9300 + 800 * r.normal(), 8000, 11000);
  const admissionMassG = birthMassG * (1 - 0.012 * age - 0.04 * r.uniform());
  const basis = age <= 6 ? "umbilicus" : "teeth";
  const base: Character = {
    id,
    name,
    species: "harbour seal",
    sex: r.uniform() < 0.5 ? "female" : "male",
    season: String(year),
    birthDay: admittedDay - age,
    admittedDay,
    admittedMinute: 600 + r.below(540),
    birthMassG,
    admissionMassG,
    basis,
    range: [r.below(2), r.below(basis === "teeth" ? 4 : 2)],
    appetite: clip(1 + 0.12 * r.normal(), 0.75, 1.25),
    maintenance: Math.exp(0.02 * r.normal()),
    usable: 0.95,
    firstSolidAge: 26 + r.below(5),
    weanedAge: 31 + r.below(5),
    leavesAge: 92 + r.below(14),
    fastDays: 10 + r.below(6),
    illnesses: illnessesOf(r, 45, 85),
    trouble: null,
    ending: "released",
    lastDay: null,
    seed: year * 1000 + 500 + i,
  };
  return settled({ ...base, ...special(id, base) });
}

function illnessesOf(r: Random, from: number, to: number): Illness[] {
  const n = r.uniform() < 0.45 ? 0 : r.uniform() < 0.75 ? 1 : 2;
  return Array.from({ length: n }, () => ({
    fromAge: from + r.below(to - from),
    days: 3 + r.below(4),
    kind: (["loose stool", "cough", "skin"] as const)[r.below(3)]!,
    appetite: 0.9 + 0.07 * r.uniform(),
  }));
}

/** Nobody falls ill by chance in the last ten days: what is seen there is told on purpose. */
function settled(c: Character): Character {
  const lastAge = LAST_DAY - c.birthDay - 10;
  return { ...c, illnesses: c.illnesses.filter((i) => i.fromAge + i.days < lastAge) };
}

/** The stories told on purpose. */
function special(id: string, c: Character): Partial<Character> {
  const bornBefore = (days: number) => ({
    birthDay: c.admittedDay - days,
    basis: "umbilicus" as const,
    range: [1, 1] as const,
  });
  switch (id) {
    case "O22-05":
      return { ending: "transferred", illnesses: [] };
    case "O23-02":
      return {
        ...bornBefore(9),
        illnesses: [{ fromAge: 84, days: 7, kind: "loose stool", appetite: 0.88 }],
        trouble: { kind: "converts poorly after illness", fromAge: 87, toAge: 120, factor: 0.953 },
      };
    case "O24-04":
      return {
        ...bornBefore(6),
        illnesses: [],
        trouble: { kind: "scale drifts", fromAge: 85, toAge: 108, factor: 0.86 },
      };
    case "O25-01":
      return { ...bornBefore(5), ending: "released", leavesAge: 137, illnesses: [] };
    case "O25-02":
      return { ...bornBefore(7), illnesses: [], weanedAge: 108 };
    case "O25-03":
      return { ...bornBefore(6), admissionMassG: 1620, birthMassG: 1690, illnesses: [] };
    case "O25-04":
      return {
        ...bornBefore(5),
        illnesses: [],
        appetite: 1,
        firstSolidAge: 38,
        trouble: {
          kind: "given less than ordered at night",
          fromAge: 42,
          toAge: 100,
          factor: 0.6,
        },
      };
    case "O25-05":
      return { ...bornBefore(6), illnesses: [] };
    case "O25-06":
      return { ...bornBefore(4), illnesses: [] };
    case "O25-07":
      return {
        birthMassG: 1310,
        admissionMassG: 1240,
        ...bornBefore(2),
        illnesses: [],
        leavesAge: 24,
        ending: "died",
        trouble: { kind: "fails", fromAge: 14, toAge: 24, factor: 0.72 },
      };
    case "S25-03":
      return { lastDay: "soft stools", illnesses: [] };
    case "S25-04":
      return { lastDay: "vomits", illnesses: [] };
    case "O23-05":
      return { basis: "mass", range: [7, 6] };
    case "S23-03":
      return { basis: "unknown", range: [0, 0], sex: "unknown" };
    case "S22-01":
      return { basis: "observed", range: [0, 0] };
    default:
      return {};
  }
}
