/** A minute in milliseconds. */
export const minuteMs = 60_000;
