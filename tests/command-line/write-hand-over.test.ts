import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, describe, expect, it } from "vitest";
import { writeHandOver } from "../../src/publish/write-hand-over.js";

const work = mkdtempSync(join(tmpdir(), "gramline-hand-over-"));
afterAll(() => rmSync(work, { recursive: true, force: true }));

/** Two invented pups, one with a plan and one without; "Zzyzx" is the name nobody may read. */
const secret = "Zzyzx";
const files: Readonly<Record<string, string>> = {
  "study.json": JSON.stringify({
    title: "Shift",
    species: ["sea otter"],
    zone: "America/Vancouver",
    feeding_day_start_hour: 6,
    date_style: "year-month-day",
    decimal: "point",
  }),
  "animals.csv":
    "animal_id,name,species,sex,birth_date_earliest,birth_date_latest,birth_date_basis,admitted_at,season,outcome,notes\n" +
    `P1,<b>Mica</b>,sea otter,female,2025-03-01,2025-03-01,observed,2025-03-03 10:00,2025,in care,${secret}\n` +
    `P2,,sea otter,male,2025-03-01,2025-03-01,observed,2025-03-03 10:00,2025,in care,${secret}\n`,
  "weighings.csv":
    "animal_id,at,mass_g,tare_g,method,coat,meal\n" +
    "P1,2025-05-11 09:00,4040,0,platform,dry,before\nP2,2025-05-11 09:30,3900,0,platform,dry,before\n",
  "feeds.csv": `animal_id,at,diet_id,offered_g,refused_g,route,notes\nP1,2025-05-11 08:00,milk,70,0,bottle,${secret}\n`,
  "diets.csv": "diet_id,name,kind,energy_kcal_per_g\nmilk,Formula A,formula,1.2\n",
  "plans.csv": `animal_id,from,to,diet_id,g_per_feed,feeds_per_day,feed_times,ordered_by,notes\nP1,2025-05-05 06:00,,milk,50,8,as ${secret} says,${secret},ask ${secret}\n`,
  "observations.csv": `animal_id,at,kind,value,unit,notes\nP1,2025-05-11 10:00,temperature,37.8,degC,${secret}\n`,
};
for (const [name, text] of Object.entries(files)) writeFileSync(join(work, name), text);
const read = (name: string) => readFileSync(join(work, "out", name), "utf8");

describe("writeHandOver", () => {
  it("writes the page and the sheet, each of which needs no other file and no network", async () => {
    const animals = await writeHandOver(work, {
      out: join(work, "out", "page.html"),
      sheet: join(work, "out", "sheet.html"),
    });
    expect(animals).toBe(2);
    expect(read("page.html")).toContain("As ordered:");
    expect(read("sheet.html")).toContain("Attending veterinarian");
    // P2 has no plan: its sheet is empty rows and a sentence.
    expect(read("sheet.html").match(/No order in the file: ask now/g)).toHaveLength(1);
    for (const html of [read("page.html"), read("sheet.html")]) {
      expect(html).toContain("default-src 'none'");
      expect(html).not.toMatch(/<script|https?:\/\/(?!www\.w3\.org)|<b>Mica/);
      expect(html).toContain("&#60;b&#62;Mica");
    }
  });

  it("gives the same bytes again", async () => {
    const before = [read("page.html"), read("sheet.html")];
    await writeHandOver(work, {
      out: join(work, "out", "page.html"),
      sheet: join(work, "out", "sheet.html"),
    });
    expect([read("page.html"), read("sheet.html")]).toEqual(before);
  });

  it("names nobody where people are left out", async () => {
    expect(read("page.html")).toContain(secret);
    const out = join(work, "out", "quiet.html");
    const sheet = join(work, "out", "quiet-sheet.html");
    await writeHandOver(work, { out, sheet, withoutPeople: true });
    for (const name of ["quiet.html", "quiet-sheet.html"]) expect(read(name)).not.toContain(secret);
  });
});
