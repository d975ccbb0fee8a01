// Reads a PNG (8 bits per channel, not interlaced, as browsers write them) and
// fails when it is blank: too few pixels that differ from the first, or too few colours.
// The format: "Portable Network Graphics (PNG) Specification", W3C.
import { readFileSync } from "node:fs";
import { inflateSync } from "node:zlib";

const bytes = readFileSync(process.argv[2]);
let at = 8;
let width = 0;
let height = 0;
let channels = 0;
const parts = [];
while (at < bytes.length) {
  const length = bytes.readUInt32BE(at);
  const type = bytes.toString("latin1", at + 4, at + 8);
  const data = bytes.subarray(at + 8, at + 8 + length);
  if (type === "IHDR") {
    width = data.readUInt32BE(0);
    height = data.readUInt32BE(4);
    channels = { 2: 3, 6: 4 }[data[9]] ?? 0;
    if (data[8] !== 8 || channels === 0 || data[12] !== 0) throw new Error("another kind of PNG");
  } else if (type === "IDAT") parts.push(data);
  at += length + 12;
}
const raw = inflateSync(Buffer.concat(parts));
const stride = width * channels;
let before = new Uint8Array(stride);
let different = 0;
let first = null;
const colours = new Set();
for (let y = 0; y < height; y++) {
  const filter = raw[y * (stride + 1)];
  const line = new Uint8Array(stride);
  for (let x = 0; x < stride; x++) {
    const value = raw[y * (stride + 1) + 1 + x];
    const a = x < channels ? 0 : line[x - channels];
    const b = before[x];
    const c = x < channels ? 0 : before[x - channels];
    line[x] = value + [0, a, b, (a + b) >> 1, paeth(a, b, c)][filter];
  }
  for (let x = 0; x < stride; x += channels) {
    const colour = (line[x] << 16) | (line[x + 1] << 8) | line[x + 2];
    first ??= colour;
    if (colour !== first) different++;
    if (colours.size < 64) colours.add(colour);
  }
  before = line;
}
const share = different / (width * height);
console.log(`${width} x ${height}, ${(100 * share).toFixed(1)} % ink, ${colours.size} colours or more`);
if (share < 0.01 || colours.size < 8) {
  console.error("The picture is blank or nearly so.");
  process.exitCode = 1;
}

function paeth(a, b, c) {
  const p = a + b - c;
  const [da, db, dc] = [Math.abs(p - a), Math.abs(p - b), Math.abs(p - c)];
  return da <= db && da <= dc ? a : db <= dc ? b : c;
}
