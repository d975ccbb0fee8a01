import { normalQuantile, studentTCdf } from "./group-z-distributions.js";

export type GroupZ =
  | {
      readonly z: number;
      readonly by: "median and MAD" | "Student's t";
      readonly centre: number;
      readonly spread: number;
    }
  | { readonly z: null; readonly why: "too few" | "no spread" | "not finite" };
