import { describe, expect, it } from "vitest";
import { usualWindow } from "../../src/seasons/usual-window.js";
import { profileOf } from "../../src/species/profile-of.js";

describe("the ages compared where none are given", () => {
  it("end before the earliest weaning where a fast follows it", () => {
    const { toAgeD } = usualWindow("harbour seal");
    expect(toAgeD).toBeLessThanOrEqual(profileOf("harbour seal").weaning!.range[0]);
  });

  it("are the general ones in a species without such a fast", () => {
    expect(profileOf("sea otter").postWeaningFast).toBeNull();
    expect(usualWindow("sea otter")).toEqual({ fromAgeD: 21, toAgeD: 63 });
  });
});
