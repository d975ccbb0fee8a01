import { formulaUseBy, veryYoung } from "./nursery-practice.js";
import type { SpeciesProfile } from "./species-profile.js";

const macRae = "MacRae et al. 2011, Zoo Biol 30:532";
const muelbert = "Muelbert & Bowen 1993 (Sable Island)";

/** Harbour seal (Phoca vitulina), young in care. */
export const harbourSeal: SpeciesProfile = {
  species: "harbour seal",
  scientificName: "Phoca vitulina",
  otherNames: ["phoca vitulina", "harbor seal", "harbour seals", "harbor seals", "common seal"],
  isTemplate: false,
  birthMass: {
    range: [8700, 11000],
    unit: "g",
    source: "Harkonen & Heide-Jorgensen 1990 (8.7 kg); Dierauf 1986 (9-11 kg, survivors in care)",
    sure: "read",
  },
  lowBirthMass: {
    value: 6400,
    unit: "g",
    source: "Dierauf 1986: premature young are 2.3-4.5 kg lighter; 8.7 kg less 2.3 kg",
    sure: "read",
  },
  adultMass: {
    range: [67000, 91000],
    unit: "g",
    source: "Harkonen 1990 (67/75 kg, Sweden); Markussen et al. 1989 (to 90.7 kg, Norway)",
    sure: "read",
  },
  bodyTemperature: {
    range: [36.5, 38],
    unit: "degC",
    source: "recalled, not checked against a source",
    sure: "memory",
  },
  plausibleMass: [
    {
      fromD: 0,
      toD: 60,
      unusual: {
        range: [4200, 40000],
        unit: "g",
        source:
          "low: 8.7 kg less the 4.5 kg of a premature birth (Dierauf 1986); high: release mass 35.5 kg plus its spread (Mayer & Hutchison 1990)",
        sure: "own choice",
      },
      impossible: {
        range: [2100, 80000],
        unit: "g",
        source: "half the low and twice the high end of what is usual",
        sure: "own choice",
      },
    },
    {
      fromD: 60,
      toD: 365,
      unusual: {
        range: [7000, 60000],
        unit: "g",
        source:
          "low: arrival mass 9.2 kg less its spread (Mayer & Hutchison 1990); high: under the adult asymptotes of Harkonen 1990",
        sure: "own choice",
      },
      impossible: {
        range: [3500, 120000],
        unit: "g",
        source: "half the low and twice the high end of what is usual",
        sure: "own choice",
      },
    },
    {
      fromD: 365,
      toD: null,
      unusual: {
        range: [15000, 110000],
        unit: "g",
        source: "high: adult asymptotes of Markussen et al. 1989 plus a fifth",
        sure: "own choice",
      },
      impossible: {
        range: [7500, 220000],
        unit: "g",
        source: "half the low and twice the high end of what is usual",
        sure: "own choice",
      },
    },
  ],
  feedingRhythm: [
    {
      fromD: 0,
      toD: null,
      everyH: {
        range: [4, 4],
        unit: "h",
        source: "a centre's public page: every 4 h from 07:00 to 23:00",
        sure: "read",
      },
      betweenHours: [7, 23],
    },
  ],
  intake: [
    {
      fromD: 0,
      toD: null,
      share: {
        range: [8, 11],
        unit: "% of body mass/d",
        source: `${macRae}: milk replacer at 8 % (2007) and 11 % (2008)`,
        sure: "read",
      },
    },
  ],
  feedLimit: null,
  energyDemand: [
    {
      fromD: 0,
      toD: 90,
      timesResting: {
        range: [3.9, 7.6],
        unit: "x 70 W^0.75",
        source:
          "low: basal rate 2.6 x the prediction for an adult mammal (Miller & Irving 1975, authors from memory) and a gain of 123 g/d (MacRae et al. 2011) at 16.3 kJ/g of body (Muelbert & Bowen 1993), at 9 kg (mass assumed); high: about 3000 kcal/d (a centre's public page) at 10 kg (mass assumed)",
        sure: "computed at an assumed mass",
      },
    },
  ],
  expectedGain: [
    {
      fromD: 0,
      toD: 120,
      setting: "hand-reared",
      gain: {
        range: [43, 300],
        unit: "g/d",
        source: `${macRae}: 43 and 123 g/d; conference report 2015: 54 to 99 g/d; a centre's public page: 0.3 kg/d`,
        sure: "read",
      },
    },
    {
      fromD: 0,
      toD: 34,
      setting: "wild",
      gain: {
        range: [118, 875],
        unit: "g/d",
        source: "Dube et al. 2003: mean 544 g/d, n 110",
        sure: "read",
      },
    },
  ],
  solidsStart: null,
  weaning: {
    range: [24.1, 34],
    unit: "d",
    source: `${muelbert}: 24.1 d; Dube et al. 2003 (St Lawrence): 34 d; both wild`,
    sure: "read",
  },
  postWeaningFast: { range: [15, 17], unit: "d", source: `${muelbert}, wild`, sure: "read" },
  formulaUseBy,
  veryYoung,
  overridden: [],
  notices: [],
};
