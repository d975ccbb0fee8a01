import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";
import { catalogue, noticeText } from "../../src/core/catalogue.js";
import { notice } from "../../src/core/notice.js";

const folder = fileURLToPath(new URL("../../src/core/messages", import.meta.url));

describe("the catalogue of messages", () => {
  it("has each code in one room only", async () => {
    const seen = new Map<string, string>();
    const twice: string[] = [];
    for (const file of readdirSync(folder)) {
      const module = (await import(join(folder, file))) as Record<string, Record<string, unknown>>;
      for (const messages of Object.values(module)) {
        for (const code of Object.keys(messages)) {
          if (seen.has(code)) twice.push(`${code}: ${seen.get(code)} and ${file}`);
          seen.set(code, file);
        }
      }
    }
    expect(twice).toEqual([]);
    expect([...seen.keys()].sort()).toEqual(Object.keys(catalogue).sort());
  });

  it("shows a missing parameter as a question mark and never throws", () => {
    const broken = Object.keys(catalogue).filter((code) => {
      const text = noticeText(notice(code, "info", {}));
      return typeof text !== "string" || text.length < 5 || /undefined|NaN|\[object/.test(text);
    });
    expect(broken).toEqual([]);
  });

  it("knows every code that the source makes a notice from", () => {
    const src = fileURLToPath(new URL("../../src", import.meta.url));
    const files = readdirSync(src, { recursive: true, encoding: "utf8" }).filter(
      (name) => name.endsWith(".ts") && !name.includes("messages"),
    );
    const unknown = files.flatMap((name) =>
      [...withoutComments(join(src, name)).matchAll(/\bnotice\(\s*"([a-z0-9-]+)"/g)]
        .map((m) => m[1]!)
        .filter((code) => !Object.hasOwn(catalogue, code))
        .map((code) => `${name}: ${code}`),
    );
    expect(unknown).toEqual([]);
  });
});

function withoutComments(path: string): string {
  return readFileSync(path, "utf8").replace(/\/\*[\s\S]*?\*\//g, "");
}
