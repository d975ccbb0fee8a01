import type { Habit } from "./draft.js";
import { amountHabits } from "./habits/amounts.js";
import { fileHabits } from "./habits/files.js";
import { nameHabits } from "./habits/names.js";
import { rowAndColumnHabits } from "./habits/rows-and-columns.js";
import { signHabits } from "./habits/signs.js";
import { timeHabits } from "./habits/times.js";

/**
 * Every habit, in the order in which they are applied: cells first, then whose
 * row it is, rows and columns, times, and the file last.
 */
export const habits: readonly Habit[] = [
  ...amountHabits,
  ...signHabits,
  ...timeHabits,
  ...nameHabits,
  ...rowAndColumnHabits,
  ...fileHabits,
];
