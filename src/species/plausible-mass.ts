import { bandAt } from "./age-band.js";
import type { SpeciesProfile } from "./species-profile.js";

export interface PlausibleMass {
  /** Outside: look again, g. */
  readonly unusual: readonly [number, number];
  /** Outside: reject, g. */
  readonly impossible: readonly [number, number];
}

/**
 * The two thresholds for a mass at an age: outside `unusual` one looks again,
 * outside `impossible` one rejects. With an unknown age, the widest limits over
 * all ages. `null` when the profile has none (the template).
 *
 * @example plausibleMass(profileOf("sea otter"), 10) // { unusual: [1000, 7000], impossible: [500, 14000] }
 */
export function plausibleMass(profile: SpeciesProfile, ageD: number | null): PlausibleMass | null {
  const bands = profile.plausibleMass;
  const band = bandAt(bands, ageD);
  if (band !== null) return { unusual: band.unusual.range, impossible: band.impossible.range };
  if (bands.length === 0) return null;
  const widest = (ranges: readonly (readonly [number, number])[]): [number, number] => [
    Math.min(...ranges.map((r) => r[0])),
    Math.max(...ranges.map((r) => r[1])),
  ];
  return {
    unusual: widest(bands.map((b) => b.unusual.range)),
    impossible: widest(bands.map((b) => b.impossible.range)),
  };
}
