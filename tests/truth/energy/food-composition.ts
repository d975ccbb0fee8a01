/**
 * Food composition per 100 g as fed and energies in kcal per 100 g, re-keyed.
 *
 * Herring, squid, clam: USDA National Nutrient Database, Standard Reference
 * (Pacific herring raw; squid mixed raw; clam mixed raw). Water of squid and
 * clam and all ash from memory. Sea otter milk: Jenness et al. 1981, quoted in
 * the Oiled Sea Otter Rehabilitation Course, ch. 9 (solids 38 %; of solids 31 %
 * protein, 65 % fat, 2.5 % carbohydrate, 1.5 % ash). Harbour seal milk: Lang et
 * al. 2005, Can J Zool (fat), protein about 9 %.
 */
export const foods = {
  herring: { water: 71.52, protein: 16.39, fat: 13.88, carbohydrate: 0, ash: 2.4, kcal: 195 },
  squid: { water: 78.6, protein: 15.6, fat: 1.4, carbohydrate: 3.1, ash: 1.4, kcal: 92 },
  clam: { water: 79, protein: 14.7, fat: 1, carbohydrate: 3.6, ash: 1.9, kcal: 86 },
  seaOtterMilk: {
    water: 62,
    protein: 38 * 0.31,
    fat: 38 * 0.65,
    carbohydrate: 38 * 0.025,
    ash: 38 * 0.015,
    kcal: 273.2,
  },
  sealMilkAtBirth: { water: null, protein: 9, fat: 40.8, carbohydrate: 0, ash: null, kcal: 403 },
  sealMilkDay7: { water: null, protein: 9, fat: 50.2, carbohydrate: 0, ash: null, kcal: 488 },
} as const;
