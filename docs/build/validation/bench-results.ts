import { existsSync, readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { formatDate } from "../../../src/units/format-date.js";

const folder = fileURLToPath(new URL("../../../tests/bench", import.meta.url));

/** A committed result of a bench, as it lies there. */
export interface BenchResult {
  /** Name of its file, without ending. */
  readonly name: string;
  /** What the bench measures, from the comment above it; null where it stands by itself. */
  readonly about: string | null;
  readonly date: string;
  readonly seed: string;
  readonly machine: string;
  readonly data: Readonly<Record<string, unknown>>;
}

/** Every committed result, by name. */
export function benchResults(): BenchResult[] {
  return readdirSync(join(folder, "results"))
    .filter((file) => file.endsWith(".json"))
    .map((file) => file.replace(/\.json$/, ""))
    .sort()
    .map(benchResult);
}

export function benchResult(name: string): BenchResult {
  const text = readFileSync(join(folder, "results", `${name}.json`), "utf8");
  const data = JSON.parse(text) as Record<string, unknown>;
  return {
    name,
    about: aboutOf([name, String(data["bench"] ?? name)]),
    date: [...new Set(found(data, "date"))].map(formatDate).join(", ") || "not written",
    seed: [...new Set(seedsOf(data))].join(", ") || "none drawn",
    machine: String(data["machine"] ?? "not written"),
    data,
  };
}

/** The comment above a bench, without its stars and without the line to type. */
function aboutOf(names: readonly string[]): string | null {
  const path = names.map((name) => join(folder, `${name}.ts`)).find((each) => existsSync(each));
  if (path === undefined) return null;
  const comment = /\/\*\*([\s\S]*?)\*\//.exec(readFileSync(path, "utf8"))?.[1];
  return (
    comment
      ?.replace(/^\s*\* ?/gm, "")
      .split(/\n\s*\n/)
      .map((part) => part.replace(/\s+/g, " ").trim())
      .filter((part) => part !== "" && !part.startsWith("npm run"))
      .join(" ") ?? null
  );
}

/** Seeds wherever a result keeps them: `seed`, `seeds`, `firstSeed`, `trainingSeed` ... */
function seedsOf(data: Readonly<Record<string, unknown>>, name = ""): string[] {
  return Object.entries(data).flatMap(([key, value]) => {
    if (/seed/i.test(key)) return [seedText(key, value)];
    return typeof value === "object" && value !== null && !Array.isArray(value) && name === ""
      ? seedsOf(value as Record<string, unknown>, key)
      : [];
  });
}

const seedText = (key: string, value: unknown): string => {
  const plain =
    typeof value === "object" && value !== null && !Array.isArray(value)
      ? Object.entries(value)
          .map(([part, seed]) => `${part} ${seed}`)
          .join(", ")
      : String(value).replaceAll(",", ", ");
  return key === "seed" || key === "seeds" ? plain : `${words(key)} ${plain}`;
};

const words = (key: string) => key.replace(/[A-Z]/g, (letter) => ` ${letter.toLowerCase()}`);

/** Every value of a name, at any depth. */
function found(value: unknown, name: string): string[] {
  if (typeof value !== "object" || value === null) return [];
  return Object.entries(value).flatMap(([key, inner]) =>
    key === name && typeof inner === "string" ? [inner] : found(inner, name),
  );
}
