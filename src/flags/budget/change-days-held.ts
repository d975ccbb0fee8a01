/**
 * How often the 90 % interval of the day of a slowed gain held the true day in simulated
 * groups, in 100: of all looks, and of those of the world, group and day where it did worst.
 * Written by the bench `change-day-coverage` and not by hand.
 */
export const changeDaysHeld = { looks: 2660, held: 99, lowest: 92 };
