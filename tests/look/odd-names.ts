/** Invented names that put a page to the test. No animal, person or place is meant. */

const syllables = ["bra", "nim", "tol", "wex", "ori", "fen", "gul", "sar", "pel", "dov"];

/** Sixty and more short names that differ. */
export function plainName(at: number): string {
  const name = `${syllables[at % 10]}${syllables[Math.floor(at / 10) % 10]}${at % 3 === 0 ? "ik" : "a"}`;
  return `${name[0]!.toUpperCase()}${name.slice(1)}`;
}

/** Eighty characters without a place to break, and with many. */
export const longNames: readonly string[] = [
  `${"Quillonbramble".repeat(5)}Tivvypellow`.slice(0, 80).padEnd(80, "x"),
  "Little Grey One From The Far Side Of The Second Breakwater Beside The Old Winch".padEnd(80, "s"),
  "Nursery-Animal-Of-The-Second-Intake-With-Many-Hyphens-And-No-Space-Anywhere-1234",
  "WWWWWWWWMMMMMMMM".repeat(5),
];

/** Scripts of the world, right to left, no letter case, stacked marks, joined emoji. */
export const namesByScript: readonly { readonly script: string; readonly name: string }[] = [
  { script: "Cyrillic", name: "Волнушка Северная" },
  { script: "Greek", name: "Θαλασσινή Αύρα" },
  { script: "Japanese", name: "みなとの小波" },
  { script: "Arabic", name: "لؤلؤة الشمال" },
  { script: "emoji", name: "Pip 🦦🌊👩🏽‍🚀" },
  { script: "combining marks", name: "A\u030a\u0308n\u0303d\u0301r\u0302e\u0323\u0302" },
  { script: "Thai", name: "คลื่นน้อย" },
  { script: "Hebrew", name: "גל קטן" },
  { script: "Korean", name: "바다별" },
];
