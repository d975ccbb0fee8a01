import { describe, expect, it } from "vitest";
import { onceFor } from "../../src/core/once-for.js";

describe("what is worked out once", () => {
  it("is worked out again for another key and another owner, and for no other", () => {
    const asked: string[] = [];
    const wordsOf = onceFor((owner: { readonly name: string }, day: string) => {
      asked.push(`${owner.name} ${day}`);
      return `${owner.name} on ${day}`;
    });
    const [one, other] = [{ name: "one" }, { name: "one" }];
    expect(wordsOf(one, "Monday")).toBe("one on Monday");
    expect(wordsOf(one, "Monday")).toBe("one on Monday");
    wordsOf(one, "Tuesday");
    wordsOf(other, "Monday");
    expect(asked).toEqual(["one Monday", "one Tuesday", "one Monday"]);
  });
});
