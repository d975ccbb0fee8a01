import type { AnimalSeries } from "../series/animal-series.js";

const dayMs = 86_400_000;

/**
 * The smoothed mass of an animal at an instant, g, or `null` when no weighing
 * stands near enough.
 */
export function massAt(series: AnimalSeries, at: number): number | null {
  const near = series.daily.filter((d) => d.massG > 0 && Math.abs(d.at - at) <= 4 * dayMs);
  if (near.length === 0) return null;
  if (near.length === 1) return near[0]!.massG;
  let sw = 0;
  let st = 0;
  let sy = 0;
  for (const d of near) {
    const w = (1 - (Math.abs(d.at - at) / (4.5 * dayMs)) ** 3) ** 3;
    sw += w;
    st += w * (d.at - at);
    sy += w * d.massG;
  }
  const mt = st / sw;
  let stt = 0;
  let sty = 0;
  for (const d of near) {
    const w = (1 - (Math.abs(d.at - at) / (4.5 * dayMs)) ** 3) ** 3;
    stt += w * (d.at - at - mt) ** 2;
    sty += w * (d.at - at - mt) * d.massG;
  }
  return sy / sw - (sty / stt) * mt;
}
