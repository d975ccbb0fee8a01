// Fails when a PNG is blank: too few pixels that differ from the first, or too few colours.
import { readFileSync } from "node:fs";
import { readPng } from "./png.mjs";

const { width, height, channels, pixels } = readPng(readFileSync(process.argv[2]));
let different = 0;
let first = null;
const colours = new Set();
for (let x = 0; x < pixels.length; x += channels) {
  const colour = (pixels[x] << 16) | (pixels[x + 1] << 8) | pixels[x + 2];
  first ??= colour;
  if (colour !== first) different++;
  if (colours.size < 64) colours.add(colour);
}
const share = different / (width * height);
console.log(`${width} x ${height}, ${(100 * share).toFixed(1)} % ink, ${colours.size} colours or more`);
if (share < 0.01 || colours.size < 8) {
  console.error("The picture is blank or nearly so.");
  process.exitCode = 1;
}
