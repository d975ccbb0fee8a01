// Reads a PNG as browsers write them (8 bits per channel, not interlaced).
// The format: "Portable Network Graphics (PNG) Specification", W3C.
import { inflateSync } from "node:zlib";

/** Width, height, channels and the bytes of every pixel, row after row. */
export function readPng(bytes) {
  let at = 8;
  let [width, height, channels] = [0, 0, 0];
  const parts = [];
  while (at < bytes.length) {
    const length = bytes.readUInt32BE(at);
    const type = bytes.toString("latin1", at + 4, at + 8);
    const data = bytes.subarray(at + 8, at + 8 + length);
    if (type === "IHDR") {
      [width, height] = [data.readUInt32BE(0), data.readUInt32BE(4)];
      channels = { 2: 3, 6: 4 }[data[9]] ?? 0;
      if (data[8] !== 8 || channels === 0 || data[12] !== 0) throw new Error("another kind of PNG");
    } else if (type === "IDAT") parts.push(data);
    at += length + 12;
  }
  const raw = inflateSync(Buffer.concat(parts));
  const stride = width * channels;
  const pixels = new Uint8Array(stride * height);
  for (let y = 0; y < height; y++) {
    const filter = raw[y * (stride + 1)];
    for (let x = 0; x < stride; x++) {
      const here = y * stride + x;
      const a = x < channels ? 0 : pixels[here - channels];
      const b = y === 0 ? 0 : pixels[here - stride];
      const c = x < channels || y === 0 ? 0 : pixels[here - stride - channels];
      pixels[here] = raw[y * (stride + 1) + 1 + x] + [0, a, b, (a + b) >> 1, paeth(a, b, c)][filter];
    }
  }
  return { width, height, channels, pixels };
}

function paeth(a, b, c) {
  const p = a + b - c;
  const [da, db, dc] = [Math.abs(p - a), Math.abs(p - b), Math.abs(p - c)];
  return da <= db && da <= dc ? a : db <= dc ? b : c;
}
