import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { leaveCacheAlone } from "../../src/cache/disk-cache.js";
import { keptPictures } from "../../src/cache/kept-pictures.js";
import { ownCache } from "./own-cache.js";

const { folder, answers } = ownCache();

describe("pictures that are kept", () => {
  it("come back for what they were drawn from, whichever study asks, and for nothing else", () => {
    keptPictures("a")!.keep("picture one", { wide: "<svg/>" });
    expect(keptPictures("b")!.recall("picture one")).toEqual({ value: { wide: "<svg/>" } });
    expect(keptPictures("a")!.recall("picture two")).toBeNull();
  });

  it("are drawn anew where a file is damaged", () => {
    keptPictures("a")!.keep("picture one", { wide: "<svg/>" });
    const file = join(folder(), answers()[0]!);
    const bytes = readFileSync(file);
    bytes[bytes.length - 3] = bytes[bytes.length - 3]! ^ 1;
    writeFileSync(file, bytes);
    expect(keptPictures("a")!.recall("picture one")).toBeNull();
  });

  it("are neither kept nor looked for where the cache is left alone", () => {
    leaveCacheAlone();
    expect(keptPictures("a")).toBeNull();
  });
});
