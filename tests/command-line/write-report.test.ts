import { createHash } from "node:crypto";
import {
  cpSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { join, relative } from "node:path";
import { fileURLToPath } from "node:url";
import { strFromU8, unzipSync } from "fflate";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { fileNames } from "../../src/publish/report-files.js";
import { writeReport } from "../../src/publish/write-report.js";

/** The 50 chicks of Crowder and Hand (1990), a real study folder without feeds. */
const chicks = fileURLToPath(new URL("../fixtures/chicks", import.meta.url));
const work = mkdtempSync(join(tmpdir(), "gramline-report-"));
afterAll(() => rmSync(work, { recursive: true, force: true }));

const filesIn = (folder: string): string[] =>
  readdirSync(folder, { recursive: true, encoding: "utf8" })
    .filter((name) => statSync(join(folder, name)).isFile())
    .sort();
const digests = (folder: string) =>
  filesIn(folder).map((name) => [
    name,
    createHash("sha256")
      .update(readFileSync(join(folder, name)))
      .digest("hex"),
  ]);

/** Four animals of the fixture, so that a report takes a moment only. */
function smallStudy(name: string): string {
  const folder = join(work, name);
  cpSync(chicks, folder, { recursive: true });
  const animals = readFileSync(join(folder, "animals.csv"), "utf8").split(/\r?\n/);
  const ids = animals.slice(1, 5).map((line) => line.split(",")[0]);
  writeFileSync(join(folder, "animals.csv"), `${animals.slice(0, 5).join("\n")}\n`);
  const [head, ...weighings] = readFileSync(join(folder, "weighings.csv"), "utf8").split(/\r?\n/);
  const kept = weighings.filter((line) => ids.includes(line.split(",")[0]));
  writeFileSync(join(folder, "weighings.csv"), `${[head, ...kept].join("\n")}\n`);
  return folder;
}

describe("writeReport", () => {
  const out = join(work, "once");
  let written: Awaited<ReturnType<typeof writeReport>>;
  let study: string;
  beforeAll(async () => {
    study = smallStudy("small");
    written = await writeReport(study, { out, date: "2026-01-31" });
  });

  it("writes every file it names and no other", () => {
    expect(
      filesIn(out)
        .map((name) => name.replaceAll("\\", "/"))
        .filter((name) => !name.endsWith(".written-by-gramline.json")),
    ).toEqual([...written.files].sort());
    expect(written.open).toBe("index.html");
    expect(written.animals).toBe(4);
    for (const file of [
      "report.html",
      "report.docx",
      "tables.xlsx",
      "hand-over.html",
      "feeding-sheet.html",
      "tables/flag-log-all-seasons.csv",
      "tables/season-summary.csv",
      "tables/formula-summary.csv",
      "tables/sex-summary.csv",
      "tables/phases.csv",
      "tables/decisions.csv",
      "provenance.json",
    ]) {
      expect(written.files).toContain(`${written.folder}/${file}`);
    }
  });

  it("gives the same bytes for the same records and date", async () => {
    const again = join(work, "again");
    await writeReport(study, { out: again, date: "2026-01-31" });
    expect(digests(again)).toEqual(digests(out));
  });

  it("says where its numbers come from", () => {
    const from = JSON.parse(readFileSync(join(out, written.folder, "provenance.json"), "utf8"));
    expect(from.reportDate).toBe("2026-01-31");
    const weighings = from.inputs.find((each: { path: string }) => each.path === "weighings.csv");
    expect(weighings.sha256).toBe(
      createHash("sha256")
        .update(readFileSync(join(study, "weighings.csv")))
        .digest("hex"),
    );
    for (const count of from.rows) expect(count.rowsIn).toBe(count.accepted + count.setAside);
    expect(from.seed).toBe(1);
    // The works named in the methods are those of the results, on the page as well.
    expect(from.citations.length).toBeGreaterThan(3);
    const html = readFileSync(join(out, written.folder, "report.html"), "utf8");
    for (const work of from.citations.filter((each: string) => !/[&<>"']/.test(each))) {
      expect(html).toContain(work);
    }
  });

  it("says under every picture how many and how", () => {
    const captions = filesIn(out)
      .filter((each) => each.endsWith(".html"))
      .flatMap((name) =>
        [
          ...readFileSync(join(out, name), "utf8").matchAll(/<figcaption>(.*?)<\/figcaption>/gs),
        ].map((m) => `${name}: ${m[1]}`),
      );
    expect(captions.length).toBeGreaterThan(10);
    const how =
      /least squares|least-squares|slope|daily mass|Turnbull|Offered minus refused|means of the window|mixed model|linear model|as written|cohort/i;
    expect(captions.filter((each) => !/: .*\d/s.test(each) || !how.test(each))).toEqual([]);
  });

  it("makes a document whose parts are well formed, with pictures and their descriptions", () => {
    const parts = unzipSync(new Uint8Array(readFileSync(join(out, written.folder, "report.docx"))));
    const body = strFromU8(parts["word/document.xml"]!);
    expect(body).toContain('w:val="Heading1"');
    expect(body).toContain("<w:tblHeader/>");
    const core = strFromU8(parts["docProps/core.xml"]!);
    expect(core).toContain("2026-01-31T12:00:00Z");
    expect(core.match(/\d{4}-\d\d-\d\dT/g)).toEqual(["2026-01-31T", "2026-01-31T"]);
  });

  it("leads from page to page by links that exist, and no link leaves the folder", () => {
    for (const name of filesIn(out).filter((each) => each.endsWith(".html"))) {
      const html = readFileSync(join(out, name), "utf8");
      for (const [, href] of html.matchAll(/<a [^>]*href="([^"#][^"]*)"/g)) {
        const target = join(out, name, "..", decodeURIComponent(href!));
        expect(relative(out, target).startsWith(".."), `${name}: ${href}`).toBe(false);
        expect(statSync(target).isFile(), `${name}: ${href}`).toBe(true);
      }
    }
  });

  it("lets only its own script run, which turns no text into code and fetches nothing", () => {
    const html = readFileSync(join(out, written.folder, "report.html"), "utf8");
    const script = html.slice(html.lastIndexOf("<script>") + 8, html.lastIndexOf("</script>"));
    const digest = createHash("sha256").update(script).digest("base64");
    // Content Security Policy Level 3: the digest of the inline script, and no 'unsafe-eval'.
    expect(html).toContain(`script-src 'sha256-${digest}'`);
    expect(html).not.toMatch(/unsafe-eval|connect-src|<script[^>]*\ssrc=/);
    const pages = filesIn(out).filter((name) => name.endsWith(".html"));
    const all = pages.map((name) => readFileSync(join(out, name), "utf8")).join("");
    const blocks = [...all.matchAll(/<script type="application\/json">(.*?)<\/script>/gs)];
    expect(blocks.length).toBeGreaterThan(0);
    // What a picture says when it is asked: sentences and places, nothing that is run.
    expect(blocks.length).toBe(all.match(/<figure data-reading>/g)?.length);
    for (const [, json] of blocks) {
      const { words, places } = JSON.parse(json!) as { words: unknown[]; places: unknown[] };
      expect(words.length).toBeGreaterThan(0);
      expect(places.length).toBeGreaterThan(0);
    }
  });

  it("refuses a date that is none and a folder that holds no study", async () => {
    await expect(writeReport(study, { out, date: "2026-02-30" })).rejects.toThrow(/YYYY-MM-DD/);
    await expect(writeReport(join(work, "nowhere"), { out, date: "2026-01-31" })).rejects.toThrow(
      /no such folder/,
    );
  });
});

describe("a report without people", () => {
  it("carries no note, no name of staff and no permit number in any file", async () => {
    const study = smallStudy("people");
    const secret = "Zzyzx";
    const animals = readFileSync(join(study, "animals.csv"), "utf8").trim().split("\n");
    const ids = animals.slice(1).map((line) => line.split(",")[0]!);
    const table = (name: string, lines: readonly string[]) =>
      writeFileSync(join(study, name), `${lines.join("\n")}\n`);
    table("observations.csv", [
      "animal_id,at,kind,value,unit,notes",
      ...ids.flatMap((id) => [
        `${id},2025-03-10 08:00,medication,given by ${secret},,${secret} signed`,
        `${id},2025-03-11 08:00,note,,,permit ${secret}-77`,
        `${id},2025-03-12 08:00,temperature,40.1,degC,read by ${secret}`,
      ]),
    ]);
    table("plans.csv", [
      "animal_id,from,to,diet_id,g_per_feed,feeds_per_day,ordered_by",
      `${ids[0]},2025-03-10,,,10,4,Dr ${secret}`,
    ]);
    table("events.csv", [
      "at,to,scope,kind,notes",
      `2025-03-10 08:00,,study,staff,${secret} on leave`,
      `2025-03-14 08:00,,study,protocol change,${secret} changed the diet`,
    ]);
    table("decisions.csv", [
      "animal_id,at,mass_g,decision,decided_by,decided_on,why",
      `${ids[0]},2025-03-05 12:00,51,keep,${secret},2025-03-06,${secret} was there`,
    ]);
    table("acknowledgements.csv", [
      "animal_id,acknowledged_on,acknowledged_by,note",
      ...ids.map((id) => `${id},2025-03-12,${secret},${secret} looked`),
    ]);
    const texts = (folder: string) =>
      filesIn(folder).flatMap((name) => {
        const bytes = new Uint8Array(readFileSync(join(folder, name)));
        return /\.(docx|xlsx)$/.test(name)
          ? Object.entries(unzipSync(bytes)).map(([part, data]) => [
              `${name}/${part}`,
              strFromU8(data),
            ])
          : [[name, strFromU8(bytes)]];
      });
    const told = join(work, "told");
    await writeReport(study, { out: told, date: "2026-01-31" });
    // The names are there to be found when nothing is left out, so the check below can fail.
    expect(texts(told).some(([, words]) => words!.includes(secret))).toBe(true);
    const quiet = join(work, "quiet");
    await writeReport(study, { out: quiet, date: "2026-01-31", withoutPeople: true });
    expect(
      texts(quiet)
        .filter(([, words]) => words!.includes(secret))
        .map(([name]) => name),
    ).toEqual([]);
  });
});

describe("fileNames", () => {
  it("are safe on every file system and all different", () => {
    expect(fileNames(["A/1", "a-1", "../x", "con", "海獭", ""])).toEqual([
      "A-1",
      "a-1-2",
      "x",
      "file-con",
      "海獭",
      "file-",
    ]);
  });
});
