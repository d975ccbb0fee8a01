import { formulaUseBy, veryYoung } from "./nursery-practice.js";
import type { SpeciesProfile } from "./species-profile.js";

const course = "Oiled Sea Otter Rehabilitation Course";
const thometz = "Thometz et al. 2014, J Exp Biol 217:2053";

/** Sea otter (Enhydra lutris), young in care. */
export const seaOtter: SpeciesProfile = {
  species: "sea otter",
  scientificName: "Enhydra lutris",
  otherNames: ["enhydra lutris", "sea otters", "seaotter"],
  isTemplate: false,
  birthMass: {
    range: [1000, 2300],
    unit: "g",
    source: `${course}, ch. 9; COSEWIC 2007 citing Riedman & Estes 1990`,
    sure: "read",
  },
  lowBirthMass: {
    value: 1400,
    unit: "g",
    source: `${course}, ch. 8: of 10 live-born young that died before 3 d, 8 were lighter`,
    sure: "read",
  },
  adultMass: {
    range: [20000, 32000],
    unit: "g",
    source: "book extract (female 20 kg, California); popular page (male 32 kg, Alaska); weak",
    sure: "read",
  },
  bodyTemperature: {
    range: [37.5, 38.1],
    unit: "degC",
    source: `${course}, ch. 9 (Williams & Kocher 1978), rectal, young`,
    sure: "read",
  },
  plausibleMass: [
    {
      fromD: 0,
      toD: 90,
      unusual: {
        range: [1000, 7000],
        unit: "g",
        source: `${course}, ch. 9: 1-7 kg is usually under 3 months`,
        sure: "read",
      },
      impossible: {
        range: [500, 14000],
        unit: "g",
        source: "half the low and twice the high end of what is usual",
        sure: "own choice",
      },
    },
    {
      fromD: 90,
      toD: 240,
      unusual: {
        range: [4000, 20000],
        unit: "g",
        source: `high end: ${course}, ch. 9; low end set below 1.8 kg growing 1 %/d and below the 5.0 kg of an emaciated young of 4 months`,
        sure: "own choice",
      },
      impossible: {
        range: [2000, 40000],
        unit: "g",
        source: "half the low and twice the high end of what is usual",
        sure: "own choice",
      },
    },
    {
      fromD: 240,
      toD: null,
      unusual: {
        range: [6000, 32000],
        unit: "g",
        source:
          "Garshelis & Garshelis 1987 (6 kg at separation); popular page (32 kg male, Alaska)",
        sure: "read",
      },
      impossible: {
        range: [3000, 64000],
        unit: "g",
        source: "half the low and twice the high end of what is usual",
        sure: "own choice",
      },
    },
  ],
  feedingRhythm: [
    {
      fromD: 0,
      toD: 60,
      everyH: { range: [2, 3], unit: "h", source: "no source", sure: "common practice" },
      betweenHours: null,
    },
    {
      fromD: 60,
      toD: 120,
      everyH: {
        range: [3, 4],
        unit: "h",
        source: `${course}, ch. 9: every 3 h at about 2 months; the high end is common practice`,
        sure: "common practice",
      },
      betweenHours: null,
    },
    {
      fromD: 120,
      toD: null,
      everyH: { range: [3, 6], unit: "h", source: "no source", sure: "common practice" },
      betweenHours: null,
    },
  ],
  intake: [
    {
      fromD: 0,
      toD: 30,
      share: {
        range: [30, 30],
        unit: "% of body mass/d",
        source: `${course}, ch. 9: 30 % under 1 month`,
        sure: "read",
      },
    },
    {
      fromD: 30,
      toD: 60,
      share: {
        range: [25, 35],
        unit: "% of body mass/d",
        source: `${course}, ch. 9; statements of aquaria 2012-2017: 35 % at about 8 weeks, 25 % at about 2 months`,
        sure: "read",
      },
    },
    {
      fromD: 60,
      toD: 90,
      share: {
        range: [25, 25],
        unit: "% of body mass/d",
        source: "statements of aquaria 2012-2017: 25 % at about 2 months",
        sure: "read",
      },
    },
    {
      fromD: 90,
      toD: 240,
      share: {
        range: [18.3, 20.8],
        unit: "% of body mass/d",
        source:
          "statements of aquaria 2012-2017: 2.0 kg/d at 10.9 kg, 2.5 kg/d at 12 kg, ages not given; 7-20 kg is usually 3-8 months (Oiled Sea Otter Rehabilitation Course, ch. 9)",
        sure: "read",
      },
    },
    // For animals from 8 months to adult size no figure was found: none is given.
  ],
  feedLimit: null,
  energyDemand: [
    {
      fromD: 0,
      toD: 120,
      timesResting: {
        range: [5.03, 5.2],
        unit: "x 70 W^0.75",
        source: `${thometz}: 2.29 MJ/d in the first weeks, at 1.8 kg; Cortez et al. 2016: 4.62 MJ/d rest and activity at 8-12 weeks, at 4.5 kg (masses assumed)`,
        sure: "computed at an assumed mass",
      },
    },
    {
      fromD: 120,
      toD: null,
      timesResting: {
        range: [3.93, 5.2],
        unit: "x 70 W^0.75",
        source: `${thometz}: 7.41 MJ/d near independence, at 12 kg (mass assumed)`,
        sure: "computed at an assumed mass",
      },
    },
  ],
  expectedGain: [
    {
      fromD: 0,
      toD: 180,
      setting: "hand-reared",
      gain: {
        range: [1, 1.1],
        unit: "%/d",
        source: "statement of an aquarium 2012: about 1 %/d; 1.8 to 13 kg in 180 d is 1.10 %/d",
        sure: "read",
      },
    },
  ],
  solidsStart: {
    range: [28, 42],
    unit: "d",
    source: `${course}, ch. 9: milk alone for about 1 month; the high end is common practice`,
    sure: "common practice",
  },
  weaning: {
    range: [120, 280],
    unit: "d",
    source: "Riedman et al. 1994: dependency 166 d on average, 120-280 d",
    sure: "read",
  },
  postWeaningFast: null,
  formulaUseBy,
  veryYoung,
  overridden: [],
  notices: [],
};
