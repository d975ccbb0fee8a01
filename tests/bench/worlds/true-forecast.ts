import type { WatchedAnimal } from "../../../src/flags/watch/watched-animal.js";
import type { WeighedNormal } from "../../../src/stats/distributions/normal-mixture.js";
import { type House, stream, type World } from "./world.js";

const particles = 120;

/**
 * What one who knows the world's law and this nursery's numbers would forecast of an animal
 * from its weighings so far: nothing is unknown but the animal itself. What is not linear
 * (how its gain fades, its adult size, a dip at weaning) is drawn; its own gain, the
 * wandering and the gut fill are filtered exactly given that, along the mean path.
 * Answers, for each time, a mixture of normals for the true ln mass.
 */
export function trueForecast(
  world: World,
  house: House,
  ofSeason: number,
  animal: WatchedAnimal,
  count: number,
  ageAtDay0: number,
  times: readonly number[],
  seed: number,
): readonly (readonly WeighedNormal[])[] {
  const r = stream(seed);
  for (let i = 0; i < 8; i++) r.uniform();
  const runs = Array.from({ length: particles }, () => {
    const fade = house.fade * Math.exp(0.1 * r.normal());
    const adult = Math.log(r.between([16_000, 22_000]));
    const dips = r.uniform() < world.weaningDip;
    const dipAge = house.weaningAge + 4 * r.normal();
    const dipD = r.between([3, 6]);
    return filtered(fade, adult, dips ? dipAge : Number.POSITIVE_INFINITY, dipD);
  });
  const most = Math.max(...runs.map((x) => x.log));
  const total = runs.reduce((s, x) => s + Math.exp(x.log - most), 0);
  return times.map((_, i) =>
    runs
      .map((x) => ({
        weight: Math.exp(x.log - most) / total,
        mean: x.mean[i]!,
        sd: Math.sqrt(x.variance[i]!),
      }))
      .filter((x) => x.weight > 1e-5),
  );

  function filtered(fade: number, adult: number, dipAge: number, dipD: number) {
    // State: level, own gain (share), wander, gut fill; covariance entry by entry.
    const first = animal.time[0]!;
    let [a, o, w, g] = [animal.logMass[0]!, 0, 0, 0];
    let [aa, ao, aw, ag] = [4e-4, 0, 0, 0];
    let [oo, ow, og] = [house.spread ** 2, 0, 0];
    let [ww, wg, gg] = [house.wander ** 2, 0, house.gut ** 2];
    let log = 0;
    // Mass at arrival, about, where gain in grams is constant.
    const y0 = animal.logMass[0]! - house.gain * (first - ageAtDay0);
    let now = first;
    const rateAt = (t: number, y: number) => {
      let rate = house.gain * ofSeason;
      if (house.law === "gompertz") rate *= Math.exp(-fade * t);
      else if (house.law === "logistic") rate *= Math.max(0.1, 1 - Math.exp(y - adult)) / 0.9;
      else rate *= Math.exp(y0 - y);
      if (t > dipAge && t < dipAge + dipD) rate *= 0.4;
      return rate;
    };
    const carry = (to: number) => {
      while (now < to - 1e-9) {
        const dt = Math.min(1, to - now);
        const rate = rateAt(now, a) * dt;
        const keep = Math.exp(-dt / house.memory);
        const rho = house.rho ** dt;
        a += rate * (1 + o + w);
        w *= keep;
        g *= rho;
        aa += 2 * rate * (ao + aw) + rate * rate * (oo + 2 * ow + ww);
        ao += rate * (oo + ow);
        aw = keep * (aw + rate * (ow + ww));
        ag = rho * (ag + rate * (og + wg));
        ow *= keep;
        og *= rho;
        ww = keep * keep * ww + house.wander ** 2 * (1 - keep * keep);
        wg *= keep * rho;
        gg = rho * rho * gg + house.gut ** 2 * (1 - rho * rho);
        now += dt;
      }
    };
    for (let j = 0; j < count; j++) {
      carry(animal.time[j]!);
      const [ka, ko, kw, kg] = [aa + ag, ao + og, aw + wg, ag + gg];
      const v = ka + kg + house.error ** 2 + animal.knownVariance[j]!;
      let e = animal.logMass[j]! - a - g;
      // Heavy tails: one far off is pulled in.
      const bound = (world.tails === 0 ? 8 : 3) * Math.sqrt(v);
      e = Math.max(-bound, Math.min(bound, e));
      log -= 0.5 * (Math.log(v) + (e * e) / v);
      a += (ka * e) / v;
      o += (ko * e) / v;
      w += (kw * e) / v;
      g += (kg * e) / v;
      aa -= (ka * ka) / v;
      ao -= (ka * ko) / v;
      aw -= (ka * kw) / v;
      ag -= (ka * kg) / v;
      oo -= (ko * ko) / v;
      ow -= (ko * kw) / v;
      og -= (ko * kg) / v;
      ww -= (kw * kw) / v;
      wg -= (kw * kg) / v;
      gg -= (kg * kg) / v;
    }
    const mean: number[] = [];
    const variance: number[] = [];
    for (const time of times) {
      carry(time);
      mean.push(a);
      variance.push(Math.max(1e-10, aa));
    }
    return { log, mean, variance };
  }
}
