import type { AnimalLevel } from "../../flags/levels/level.js";

/**
 * Whether an open danger says that the animal gets no feed until the veterinarian
 * has spoken. Its order stands as ordered, but whoever reads a page at the hour of
 * the feed meets the act first, and no amount in large letters.
 */
export const notToBeFed = ({ act }: Pick<AnimalLevel, "act">): boolean =>
  act === "do not feed until spoken";
