/**
 * An invented study of two seasons with two animals each: weighed daily, fed five times a
 * day, one of the second season slowing. No chance in it: its numbers are sines.
 */
export function twoSeasons(): Readonly<Record<string, string>> {
  const animals = [
    "animal_id,name,species,sex,birth_date_earliest,birth_date_latest,birth_date_basis,admitted_at,season,outcome,outcome_date",
  ];
  const weighings = ["animal_id,at,mass_g,tare_g,scale_id,method,coat,meal"];
  const feeds = ["animal_id,at,diet_id,offered_g,refused_g,route"];
  const plans = ["animal_id,from,to,diet_id,g_per_feed,feeds_per_day"];
  const observations = ["animal_id,at,kind,value,unit"];
  for (const [prefix, year] of [
    ["A", 2024],
    ["B", 2025],
  ] as const) {
    for (let n = 1; n <= 2; n++) {
      const id = `${prefix}${n}`;
      const outcome = year === 2024 ? "released,2024-06-10" : "in care,";
      const sex = n % 2 === 0 ? "female" : "male";
      animals.push(
        `${id},Tal${n},sea otter,${sex},${year}-04-2${n},${year}-04-2${n},observed,${year}-04-2${n + 2} 10:00,${year},${outcome}`,
      );
      plans.push(`${id},${year}-05-01 06:00,,milk,90,5`);
      for (let day = 0; day < 36; day++) {
        const date = new Date(Date.UTC(year, 4, 1 + day)).toISOString().slice(0, 10);
        const slow = id === "B2" && day > 25 ? 0.011 * (day - 25) : 0;
        const wave = 0.008 * Math.sin(2.1 * day + n);
        const mass = 2000 * Math.exp(0.012 * day - slow + wave) + 60 * n;
        weighings.push(`${id},${date} 08:00,${mass.toFixed(0)},0,bench,carried,dry,before`);
        for (const hour of [7, 10, 13, 16, 19]) {
          const offered = (0.05 * mass * (1 + 0.1 * Math.sin(hour * n))).toFixed(0);
          const refused = id === "B2" && day > 25 && hour === 13 ? 20 : 0;
          feeds.push(
            `${id},${date} ${String(hour).padStart(2, "0")}:30,milk,${offered},${refused},bottle`,
          );
        }
        if (day % 5 === 0) observations.push(`${id},${date} 09:00,temperature,37.${n},degC`);
      }
    }
  }
  const text = (lines: readonly string[]) => `${lines.join("\n")}\n`;
  return {
    "study.json": JSON.stringify({
      title: "Two seasons",
      species: ["sea otter"],
      zone: "America/Vancouver",
      feeding_day_start_hour: 6,
      date_style: "year-month-day",
      decimal: "point",
    }),
    "animals.csv": text(animals),
    "weighings.csv": text(weighings),
    "feeds.csv": text(feeds),
    "diets.csv": "diet_id,name,kind,energy_kcal_per_g\nmilk,Formula A,formula,1.2\n",
    "plans.csv": text(plans),
    "observations.csv": text(observations),
  };
}
