import type { Meaning } from "./lexicon.js";

/** One piece of a line with its meaning; `denied` where the line says it is not so. */
export type Item =
  | {
      readonly is: "phrase";
      readonly word: string;
      readonly meaning: Meaning;
      denied: boolean;
      weakly: boolean;
    }
  | { readonly is: "tally"; readonly count: number | null; readonly amount: Amount | null }
  | { readonly is: "bare number"; readonly value: number }
  | { readonly is: "percent"; readonly value: number }
  | { readonly is: "or" }
  | { readonly is: "stop"; readonly comma: boolean }
  | { readonly is: "unknown"; readonly word: string };

export interface Amount {
  readonly value: number;
  readonly unit: "g" | "mL";
}
