/**
 * Contrast of two colours, 1 to 21, as the Web Content Accessibility Guidelines
 * 2.2 (W3C Recommendation, 2023) define "relative luminance" and "contrast ratio".
 */
export function contrastRatio(a: string, b: string): number {
  const [darker, lighter] = [luminance(a), luminance(b)].sort((x, y) => x - y);
  return (lighter! + 0.05) / (darker! + 0.05);
}

/** A colour laid over another with some opacity, as its own colour. */
export function laidOver(colour: string, opacity: number, ground: string): string {
  const [over, under] = [channels(colour), channels(ground)];
  const mixed = over.map((value, at) => Math.round(opacity * value + (1 - opacity) * under[at]!));
  return `#${mixed.map((value) => value.toString(16).padStart(2, "0")).join("")}`;
}

function luminance(colour: string): number {
  const [red, green, blue] = channels(colour).map((value) => {
    const part = value / 255;
    return part <= 0.04045 ? part / 12.92 : ((part + 0.055) / 1.055) ** 2.4;
  });
  return 0.2126 * red! + 0.7152 * green! + 0.0722 * blue!;
}

/** "#abc" or "#aabbcc". */
function channels(colour: string): number[] {
  const hex = colour.length === 4 ? colour.replace(/[0-9a-f]/gi, "$&$&") : colour;
  if (!/^#[0-9a-f]{6}$/i.test(hex)) throw new Error(`"${colour}" is no colour of three bytes`);
  return [1, 3, 5].map((at) => Number.parseInt(hex.slice(at, at + 2), 16));
}
