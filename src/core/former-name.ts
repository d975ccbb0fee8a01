const said = new Set<string>();

/**
 * A function under the name it had before: it works as today's, and says once in a
 * process what replaces it. Kept for one minor version.
 *
 * @param former the name that goes, with its room, as "stats.twoShareTest"
 * @param now today's name
 * @example export const twoShareTest = formerName("stats.twoShareTest", "stats.twoProportionTest", twoProportionTest)
 */
export function formerName<A extends readonly unknown[], R>(
  former: string,
  now: string,
  run: (...given: A) => R,
): (...given: A) => R {
  return (...given) => {
    if (!said.has(former)) {
      said.add(former);
      console.warn(
        `gramline: ${former} is now called ${now}; the former name goes with the next minor version.`,
      );
    }
    return run(...given);
  };
}
