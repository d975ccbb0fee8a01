import { once } from "node:events";
import { createWriteStream, mkdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";

/**
 * Writes a whole study with many feeds: 500 animals of five seasons, ten feeds a
 * day each, in the order in which they are fed, with one weighing a day. About one
 * row in a thousand has something wrong with it. The stream of numbers is Lehmer's
 * minimal standard generator (48271, 2^31 - 1) from seed 808, so that every machine
 * writes the same bytes.
 *
 * @returns how many rows the tables have together.
 */
export async function writeManyFeeds(folder: string, feeds: number): Promise<number> {
  let state = 808;
  const uniform = () => {
    state = (state * 48271) % 2147483647;
    return state / 2147483647;
  };
  for (let i = 0; i < 20; i++) uniform();
  const two = (n: number) => String(n).padStart(2, "0");
  mkdirSync(folder, { recursive: true });
  writeFileSync(
    join(folder, "study.json"),
    JSON.stringify({ title: "Many feeds", species: "sea otter", zone: "America/St_Johns" }),
  );
  const animals = Math.max(1, Math.min(500, Math.round(feeds / 2000)));
  const days = Math.ceil(feeds / (10 * animals));
  const perSeason = Math.ceil(animals / 5);
  const ids = Array.from({ length: animals }, (_, i) => {
    const year = 2020 + Math.floor(i / perSeason);
    return { id: `M${year - 2000}-${String(1 + (i % perSeason)).padStart(3, "0")}`, year };
  });
  const dayOf = (year: number, d: number) =>
    new Date(Date.UTC(year, 2, 1) + d * 86_400_000).toISOString().slice(0, 10);
  let text =
    "animal_id,name,species,sex,birth_date_earliest,birth_date_latest,admitted_at,season\n";
  for (const { id, year } of ids)
    text += `${id},,sea otter,${uniform() < 0.5 ? "female" : "male"},${year}-02-10,${year}-02-20,${year}-02-28 12:00,${year}\n`;
  writeFileSync(join(folder, "animals.csv"), text);
  writeFileSync(
    join(folder, "diets.csv"),
    "diet_id,name,kind,energy_kcal_per_g,density_g_per_ml\nformula,formula,formula,1.06,1.03\nclam,clam meat,solid,0.82,\nsquid,squid,solid,0.9,\n",
  );
  const weighings = createWriteStream(join(folder, "weighings.csv"), { highWaterMark: 1 << 20 });
  const feedsOut = createWriteStream(join(folder, "feeds.csv"), { highWaterMark: 1 << 20 });
  weighings.write("animal_id,at,mass_g,tare_g,scale_id,method,coat,meal,notes\n");
  let lines = "animal_id,group_id,at,diet_id,batch_id,offered_g,refused_g,route,notes\n";
  let rows = animals + 3;
  let left = feeds;
  for (let year = 2020; year < 2025; year++)
    for (let d = 0; d < days && left > 0; d++) {
      const day = dayOf(year, d);
      const present = ids.filter((a) => a.year === year);
      let weighed = "";
      for (const [i, { id }] of present.entries()) {
        const grams = 2200 + 45 * d + (i % 17) * 20 + Math.round(60 * uniform());
        weighed += `${id},${day} 07:${two(i % 60)},${grams},,bench-1,platform,dry,before,\n`;
        rows++;
      }
      if (!weighings.write(weighed)) await once(weighings, "drain");
      for (let hour = 0; hour < 10; hour++)
        for (const { id } of present) {
          if (left-- <= 0) break;
          rows++;
          const diet = d < 40 ? "formula" : uniform() < 0.5 ? "clam" : "squid";
          const at = `${day} ${two(7 + Math.floor(1.5 * hour))}:${two(30 * (hour % 2) + Math.floor(20 * uniform()))}`;
          const odd = uniform();
          const offered = odd < 0.0005 ? "60?" : (40 + d + Math.round(20 * uniform())).toFixed(0);
          const refused = uniform() < 0.7 ? "0" : Math.round(30 * uniform()).toFixed(0);
          const note = odd > 0.9995 ? "slow, then asleep" : "";
          lines += `${id},,${at},${diet},,${offered},${refused},${d < 40 ? "bottle" : "hand"},${note.includes(",") ? `"${note}"` : note}\n`;
          if (lines.length > 1 << 20) {
            if (!feedsOut.write(lines)) await once(feedsOut, "drain");
            lines = "";
          }
        }
    }
  weighings.end();
  feedsOut.end(lines);
  await Promise.all([once(weighings, "finish"), once(feedsOut, "finish")]);
  return rows;
}
