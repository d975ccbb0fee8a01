import { type Draws, drawsOf } from "./draws.js";
import { type Planted, type Scenario, scenarioOf } from "./families.js";

/** A nursery written as the files of a study, the animal that is asked about, and what is true of it. */
export interface InventedNursery {
  readonly files: readonly { readonly path: string; readonly text: string }[];
  readonly asked: string;
  readonly onDay: string;
  readonly scenario: Scenario;
  /** Whether somebody with these records could tell the cause. */
  readonly canBeTold: boolean;
}

interface Pup {
  readonly id: string;
  readonly ageAtStart: number;
  readonly appetite: number;
  readonly upkeep: number;
  readonly refuses: number;
  readonly kitchen: "milk-a" | "milk-b";
  readonly scale: string;
  mass: number;
  fill: number;
  wander: number;
}

const feedHours = [6, 9, 12, 15, 18, 21, 0, 3] as const;
const kcalPerG = 1.12;

/**
 * Invents a nursery of 6 to 9 otter pups over 44 days, plants one cause in one of
 * them, and writes what its keepers would write. Growth by an energy balance of its
 * own: gain = (kept energy - upkeep) / price, with gain that wanders and gut fill
 * that lasts. Shares no code with the library.
 */
export function inventedNursery(planted: Planted, seed: number): InventedNursery {
  const d = drawsOf(seed);
  const days = 44;
  const end = Date.UTC(2027, 2 + d.whole(0, 5), d.whole(1, 28)) / 86_400_000;
  const start = end - days + 1;
  const s = scenarioOf(planted, d);
  const onset = end - s.ago;
  const pups = Array.from({ length: d.whole(6, 9) }, (_, i) => pup(i, d));
  // Of exchanged animals the heavier one seems to slow.
  const asked = planted === "swap" ? heaviest(pups) : pups[d.whole(0, pups.length - 1)]!;
  if (planted === "small but healthy") asked.mass *= s.size;
  let partner: Pup | null = null;
  const touched = new Set(
    pups.filter(
      (p) => p === asked || s.all || (planted === "thin batch" && p.kitchen === asked.kitchen),
    ),
  );
  const upkeepShare = d.uniform(0.64, 0.74);
  const energy = d.uniform(255, 300);
  const price = (energy * (1 - upkeepShare) * 2.2 ** 0.75) / (2200 * d.uniform(0.014, 0.018));
  const blank = d.chance(0.4) ? 0.03 : 0;
  const checksEvery = d.whole(5, 8);
  const rows = {
    animals: [
      "animal_id,name,species,sex,birth_date_earliest,birth_date_latest,birth_date_basis,admitted_at,season,outcome",
    ],
    weighings: ["animal_id,at,mass_g,tare_g,scale_id,method,coat,meal"],
    scale_checks: ["scale_id,at,known_g,reading_g"],
    feeds: ["animal_id,at,diet_id,batch_id,offered_g,refused_g,route"],
    plans: ["animal_id,from,diet_id,g_per_feed,feeds_per_day,ordered_by"],
    diets: [
      "diet_id,name,kind,water_pct,protein_pct,fat_pct,carbohydrate_pct,fibre_pct,ash_pct,energy_kcal_per_g,use_by_h",
      `milk-a,milk a,formula,79.6,8,7.4,4.2,0,0.8,${kcalPerG},24`,
      `milk-b,milk b,formula,79.6,8,7.4,4.2,0,0.8,${kcalPerG},24`,
      `powder,powder,supplement,4,37.6,34.8,19.8,0,3.8,${(kcalPerG / 0.2127).toFixed(4)},`,
      "water,water,supplement,100,0,0,0,0,0,0,",
    ],
    batches: ["batch_id,diet_id,made_at,mass_g"],
    ingredients: ["batch_id,diet_id,mass_g"],
    observations: ["animal_id,at,kind,value,unit,notes"],
    events: ["at,to,scope,kind,notes"],
    housing: ["animal_id,from,place"],
  };
  for (const p of pups) {
    const born = dateOf(start - Math.round(p.ageAtStart));
    rows.animals.push(
      `${p.id},,sea otter,female,${born},${born},observed,${dateOf(start)} 05:00,2027,in care`,
    );
    rows.housing.push(`${p.id},${dateOf(start)} 05:00,room one`);
  }
  const reads = (scale: string, day: number) =>
    planted === "scale" && scale === asked.scale && day >= onset ? 1 - s.size : 1;
  for (const scale of new Set(pups.map((p) => p.scale)))
    for (let day = start; day <= end; day += checksEvery) {
      // Where it is not written, nobody checks after the change.
      if (planted === "scale" && !s.written && day >= onset) continue;
      rows.scale_checks.push(
        `${scale},${dateOf(day)} 05:30,2000,${Math.round(2000 * reads(scale, day) + d.normal(0, 2))}`,
      );
    }
  if (planted === "shared cause" && s.written)
    rows.events.push(
      d.chance(0.5)
        ? `${dateOf(onset)} 08:00,${dateOf(onset + 6)} 08:00,study,outage,"heater off, pool water 7 degrees colder"`
        : `${dateOf(onset)} 08:00,${dateOf(onset + 8)} 08:00,study,staff,new feeders on all shifts`,
    );

  const order = new Map<Pup, number>();
  for (let day = start; day <= end; day++) {
    const ill = (p: Pup) => planted === "illness signs" && p === asked && day >= onset;
    const thinned = (kitchen: Pup["kitchen"]) =>
      planted === "thin batch" && day >= onset && (s.all || kitchen === asked.kitchen) ? s.size : 0;
    const strength = new Map<string, number>();
    for (const kitchen of ["milk-a", "milk-b"] as const) {
      const thin = thinned(kitchen);
      for (const half of [1, 2]) {
        const id = `${kitchen}-${day - start}-${half}`;
        const whole = 100 * d.whole(20, 34);
        const powder = Math.round(whole * 0.2127 * (1 - thin) * d.normal(1, 0.012));
        rows.batches.push(
          `${id},${kitchen},${dateOf(day)} ${half === 1 ? "05:10" : "17:10"},${whole}`,
        );
        rows.ingredients.push(`${id},powder,${powder}`, `${id},water,${whole - powder}`);
        strength.set(`${kitchen}${half}`, (powder / whole / 0.2127) * kcalPerG);
      }
    }
    if (planted === "swap" && day === onset) partner = partnerOf(asked, pups);
    for (const p of pups) {
      weigh(p, day);
      const age = day - start;
      if (age % 4 === 0 || !order.has(p)) {
        const size = (p.mass / 1000) ** 0.75;
        const frozen = planted === "ordered too little" && p === asked && day >= onset;
        const perFeed = Math.round((p.appetite * energy * size) / kcalPerG / feedHours.length);
        order.set(p, frozen ? Math.round(perFeed * (1 - s.size)) : perFeed);
        rows.plans.push(
          `${p.id},${dateOf(day)} 05:30,${p.kitchen},${order.get(p)},${feedHours.length},head keeper`,
        );
      }
      let kept = 0;
      for (const hour of feedHours) {
        const at = hour < 5 ? day + 1 : day;
        const half = hour >= 6 && hour < 18 ? 1 : 2;
        const offered = Math.max(5, Math.round(order.get(p)! * d.normal(1, 0.01)));
        const leaves =
          p.refuses +
          (planted === "fed less than ordered" && p === asked && day >= onset ? s.size : 0) +
          (ill(p) ? s.size : 0);
        const refused = Math.round(
          offered * Math.min(0.95, Math.max(0, d.normal(leaves, 0.5 * leaves + 0.02))),
        );
        const energyIn = (offered - refused) * strength.get(`${p.kitchen}${half}`)!;
        const time = `${dateOf(at)} ${String(hour).padStart(2, "0")}:${String(d.whole(0, 9)).padStart(2, "0")}`;
        rows.feeds.push(
          `${p.id},${time},${p.kitchen},${p.kitchen}-${day - start}-${half},${offered},${d.chance(blank) ? "" : refused},bottle`,
        );
        kept += energyIn;
        const ups = planted === "kept less" && p === asked && day >= onset && d.chance(0.4);
        if (ups) {
          // Of 40 in 100 feeds comes up so much that the share of the day is the planted one.
          const up = Math.round(
            (offered - refused) * Math.min(0.95, (s.size / 0.4) * d.uniform(0.75, 1.25)),
          );
          kept -= up * strength.get(`${p.kitchen}${half}`)!;
          rows.observations.push(
            s.written
              ? `${p.id},${time.slice(0, 14)}40,regurgitation,${up},g,`
              : `${p.id},${time.slice(0, 14)}40,regurgitation,yes,,`,
          );
        }
      }
      grow(p, kept, day);
      see(p, day, ill(p));
    }
  }

  function weigh(p: Pup, day: number): void {
    p.fill = 0.35 * p.fill + d.normal(0, 0.0075);
    const shown =
      partner !== null && day >= onset ? (p === asked ? partner : p === partner ? asked : p) : p;
    const wet = d.chance(0.03);
    let share = 1 + shown.fill + (wet ? 0.03 : 0);
    const early = planted === "weighing condition" && p === asked && day < onset;
    if (early) share *= 1 + s.size;
    const told = !(planted === "weighing condition" && p === asked) || s.written;
    const grams = Math.round(shown.mass * share * reads(p.scale, day) + d.normal(0, 3));
    rows.weighings.push(
      `${p.id},${dateOf(day)} 05:${String(d.whole(35, 55))},${grams},0,${p.scale},bucket,${told ? (wet ? "wet" : "dry") : ""},${told ? (early ? "after" : "before") : ""}`,
    );
  }

  function grow(p: Pup, kept: number, day: number): void {
    const on = day >= onset && touched.has(p);
    const more =
      (planted === "converts poorly" || planted === "loses") && p === asked && on
        ? s.size
        : planted === "shared cause" && on
          ? s.size
          : planted === "illness signs" && p === asked && on
            ? 0.1
            : 0;
    const upkeep = upkeepShare * energy * p.upkeep * (1 + more) * (p.mass / 1000) ** 0.75;
    p.wander = 0.78 * p.wander + d.normal(0, 0.09);
    const usual = 0.016 * p.mass;
    p.mass += (kept - upkeep) / price + usual * p.wander;
  }

  function see(p: Pup, day: number, ill: boolean): void {
    const temperature = ill && d.chance(0.6) ? d.uniform(38.6, 39.5) : d.normal(37.8, 0.12);
    rows.observations.push(
      `${p.id},${dateOf(day)} 08:20,temperature,${Math.min(39.6, Math.max(ill ? 37 : 37.5, temperature)).toFixed(1)},degC,`,
      `${p.id},${dateOf(day)} 09:10,stool,${ill && d.chance(0.5) ? "watery" : "formed"},,`,
    );
    if (ill && d.chance(0.5))
      rows.observations.push(`${p.id},${dateOf(day)} 10:00,behaviour,lethargic,,`);
    if (d.chance(0.06)) rows.observations.push(`${p.id},${dateOf(day)} 16:00,regurgitation,2,g,`);
  }

  const settings = {
    title: "An invented nursery",
    species: ["sea otter"],
    zone: "UTC",
    feeding_day_start_hour: 5,
    blank_tare_is_zero: true,
    blank_refusal_is_none: false,
    date_style: "year-month-day",
    decimal: "point",
    units: { mass: "g", temperature: "degC", energy: "kcal" },
  };
  return {
    files: [
      { path: "study.json", text: JSON.stringify(settings) },
      ...Object.entries(rows).map(([name, lines]) => ({
        path: `${name}.csv`,
        text: `${lines.join("\n")}\n`,
      })),
    ],
    asked: asked.id,
    onDay: dateOf(end),
    scenario: s,
    // A sign that is written by its nature always can; what needs a cell can where the cell is filled.
    canBeTold:
      s.written || !["scale", "weighing condition", "kept less", "shared cause"].includes(planted),
  };
}

function pup(i: number, d: Draws): Pup {
  const ageAtStart = d.uniform(34, 52);
  return {
    id: `N${i + 1}`,
    ageAtStart,
    appetite: d.normal(1, 0.025),
    upkeep: d.normal(1, 0.02),
    refuses: d.uniform(0.02, 0.06),
    kitchen: i % 2 === 0 ? "milk-a" : "milk-b",
    scale: "table scale",
    mass: 2200 * Math.exp(0.014 * (ageAtStart - 43)) * d.normal(1, 0.07),
    fill: 0,
    wander: 0,
  };
}

const heaviest = (pups: readonly Pup[]) => pups.reduce((a, b) => (b.mass > a.mass ? b : a));

/** The animal nearest to a tenth lighter: what is exchanged in a hurry looks alike. */
function partnerOf(asked: Pup, pups: readonly Pup[]): Pup {
  const away = (p: Pup) => Math.abs(p.mass / asked.mass - 0.9);
  return pups.filter((p) => p !== asked).reduce((a, b) => (away(b) < away(a) ? b : a));
}

const dateOf = (day: number) => new Date(day * 86_400_000).toISOString().slice(0, 10);
