/**
 * The colours of pages and pictures: four roles, one hue each, for light and
 * dark grounds. What is measured is ink, what is expected water, what people
 * ordered plan, what needs attention alarm. Pictures carry the light ones, so
 * that they stand by themselves (PNG, Word, notebooks); on a page each becomes
 * the token of its name (`themed`) and follows the reader's setting.
 */
export const theme = {
  paper: ["#fcfbf8", "#10171c"],
  panel: ["#f3f1ea", "#18222a"],
  hair: ["#dcd8cd", "#2d3a44"],
  rule: ["#7f8a92", "#6b7a86"],
  ink: ["#14202a", "#eef2f3"],
  ink2: ["#45525d", "#b9c4cb"],
  ink3: ["#626e78", "#93a0aa"],
  water1: ["#e0edf2", "#16303d"],
  water2: ["#c0dbe6", "#1d475a"],
  "water-line": ["#3a7d99", "#6fb6d2"],
  "water-ink": ["#1d5b75", "#9fd3e7"],
  plan: ["#a86c00", "#e0a63a"],
  "plan-ink": ["#7a4e00", "#efc069"],
  "plan-pale": ["#f6ecd9", "#2c2312"],
  alarm: ["#a01d5c", "#f286b8"],
  "alarm-pale": ["#f8e6ee", "#2f1625"],
  // Names that stand side by side and have no role: apart in hue and in grey.
  violet: ["#6d54a3", "#bfa6ea"],
  moss: ["#5f7a22", "#b3d06a"],
  rust: ["#b4562d", "#f0a078"],
} as const satisfies Readonly<Record<string, readonly [light: string, dark: string]>>;

export type ThemeColour = keyof typeof theme;

/** The light colour of a token, as pictures carry it. */
export const light = (name: ThemeColour): string => theme[name][0];

/** The declarations of all tokens for one ground: `--ink: #14202a; ...`. */
export function tokens(ground: "light" | "dark"): string {
  const at = ground === "light" ? 0 : 1;
  return Object.entries(theme)
    .map(([name, pair]) => `--${name}: ${pair[at]};`)
    .join(" ");
}

const named = new Map<string, string>(
  Object.entries(theme).map(([name, [colour]]) => [colour, `var(--${name})`]),
);

/** A picture whose colours follow the page: every colour of the theme becomes its token, the ground goes. */
export function themed(svg: string): string {
  return svg.replace(/"(#[0-9a-f]{6})"/gi, (whole, colour: string) => {
    const token = named.get(colour.toLowerCase());
    return token === undefined ? whole : `"${token}"`;
  });
}
