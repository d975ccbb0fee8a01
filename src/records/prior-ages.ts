/** Ages in days at which a prior file describes the mean gain: closer where it changes faster. */
export const priorAgesD: readonly number[] = [0, 10, 20, 35, 50, 70, 95, 125, 160, 200, 260];
