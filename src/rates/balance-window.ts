/** The weighings of a stretch and the energy kept between them. */
export interface BalanceCourse {
  /** Whole days since the first weighing of the stretch, by the animal's usual hour of weighing. */
  readonly atD: readonly number[];
  readonly massG: readonly number[];
  /** kcal kept (eaten less what came up) since the weighing before; 0 for the first. */
  readonly kcal: readonly number[];
}

/** One stretch of one animal: energy kept (eaten less what came up), size and gain with its error. */
export interface BalanceWindow {
  readonly animalId: string;
  readonly from: number;
  readonly to: number;
  readonly kcalPerD: number;
  /** Mean mass^0.75, kg^0.75. */
  readonly metabolicKg: number;
  readonly gainGPerD: number;
  readonly gainSe: number;
  /** Its weighings and the energy between them; with it the balance needs no stated error. */
  readonly course?: BalanceCourse;
}
