import { once } from "node:events";
import { createWriteStream } from "node:fs";

/**
 * Writes a file of feeds and weighings for timing: animal (1 to 2000), an
 * instant within 180 days, feed or weight, grams. The stream of numbers is
 * Lehmer's minimal standard generator (48271, 2^31 - 1) from seed 808, so that
 * every machine writes the same bytes.
 */
export async function writeRecordsFile(path: string, rows: number): Promise<void> {
  let state = 808;
  const uniform = () => {
    state = (state * 48271) % 2147483647;
    return state / 2147483647;
  };
  for (let i = 0; i < 20; i++) uniform();
  const days = Array.from({ length: 180 }, (_, i) =>
    new Date(Date.UTC(2025, 3, 1) + i * 86_400_000).toISOString().slice(0, 10),
  );
  const two = (n: number) => String(n).padStart(2, "0");
  const out = createWriteStream(path, { highWaterMark: 1 << 20 });
  let text = "animal,time,kind,grams\n";
  for (let i = 0; i < rows; i++) {
    const animal = 1 + Math.floor(2000 * uniform());
    const day = Math.floor(180 * uniform());
    const minute = Math.floor(1440 * uniform());
    const weight = uniform() < 0.15;
    const q = uniform();
    const grams = weight ? 50 + 4 * day + 40 * q : 2 + 0.1 * day + 10 * q;
    text += `${animal},${days[day]}T${two(Math.floor(minute / 60))}:${two(minute % 60)}:00Z,${weight ? "weight" : "feed"},${grams.toFixed(1)}\n`;
    if (text.length > 1 << 20) {
      if (!out.write(text)) await once(out, "drain");
      text = "";
    }
  }
  out.end(text);
  await once(out, "finish");
}
