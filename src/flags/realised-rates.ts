import type { RealisedRate } from "./false-flag-budget.js";

export const realisedRates: readonly RealisedRate[] = [];
