import { spawnSync } from "node:child_process";
import {
  appendFileSync,
  chmodSync,
  mkdirSync,
  mkdtempSync,
  rmSync,
  truncateSync,
  writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { strFromU8, strToU8, unzipSync, zipSync } from "fflate";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { sizeLimits } from "../../src/core/size-limits.js";
import { readStudy } from "../../src/records/files/read-study.js";
import { openWorkbook } from "../../src/records/open-workbook.js";
import { parseStudy } from "../../src/records/parse-study.js";
import { makeWorkbook } from "../records/make-workbook.js";
import { animalsCsv, inputs, settings, weighingsCsv } from "../records/small-study.js";

/** Things in a study's folder that are called as tables are, and are not, or never end. */
let folder: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "gramline-hostile-"));
  writeFileSync(join(folder, "study.json"), JSON.stringify(settings));
  writeFileSync(join(folder, "animals.csv"), animalsCsv);
  writeFileSync(join(folder, "weighings.csv"), weighingsCsv);
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

const refusal = (): Promise<string> =>
  readStudy(folder).then(
    () => "read",
    (error: Error) => `${error.name}: ${error.message}`,
  );
const isRoot = process.getuid?.() === 0;
const isLinux = process.platform === "linux";

describe("what is called as a table is and cannot be read as one", () => {
  it("a folder is refused by name", async () => {
    mkdirSync(join(folder, "feeds.csv"));
    expect(await refusal()).toMatch(/^UsageError: feeds\.csv: .*a folder is called so/);
  });

  it.skipIf(process.platform === "win32")(
    "a pipe is refused by name and not waited for",
    async () => {
      for (const name of ["feeds.csv", "study.json"]) {
        rmSync(join(folder, name), { force: true });
        expect(spawnSync("mkfifo", [join(folder, name)]).status).toBe(0);
        expect(await refusal()).toMatch(new RegExp(`^UsageError: ${name}: .*a pipe or a device`));
        rmSync(join(folder, name));
        if (name === "study.json") writeFileSync(join(folder, name), JSON.stringify(settings));
      }
    },
  );

  it.skipIf(!isLinux)("a name of another encoding is told, of a file and of a folder", async () => {
    const named = Buffer.concat([Buffer.from(`${folder}/f`), Buffer.from([0xe9, 0xff])]);
    const file = Buffer.concat([named, Buffer.from(".csv")]);
    writeFileSync(file, weighingsCsv);
    expect(await refusal()).toMatch(/^UsageError: f.*a name in UTF-8.*Rename it/);
    rmSync(file);
    mkdirSync(named);
    writeFileSync(Buffer.concat([named, Buffer.from("/weighings.csv")]), weighingsCsv);
    expect(await refusal()).toMatch(/^UsageError: f.*a name in UTF-8.*Rename it/);
    rmSync(named, { recursive: true });
  });

  it.skipIf(isRoot || process.platform === "win32")(
    "a folder that may not be opened is told",
    async () => {
      mkdirSync(join(folder, "2024"));
      chmodSync(join(folder, "2024"), 0);
      expect(await refusal()).toMatch(/^UsageError: 2024: .*EACCES/);
      chmodSync(join(folder, "2024"), 0o700);
    },
  );

  it("a folder of more tables than a nursery has is told, and the study is read without it", async () => {
    mkdirSync(join(folder, "copies"));
    for (let i = 0; i <= sizeLimits.filesInFolder; i++)
      writeFileSync(join(folder, "copies", `weighings-${i}.csv`), weighingsCsv);
    const study = await readStudy(folder);
    expect(study.tables.weighings.length).toBe(4);
    const told = study.notices.filter((each) => each.code === "records-folder-too-full");
    expect(told.map(({ level, parameters }) => ({ level, ...parameters }))).toEqual([
      { level: "caution", folder: "copies/", count: 201, most: 200 },
    ]);
    rmSync(join(folder, "copies", "weighings-7.csv"));
    const fewer = await readStudy(folder);
    expect(fewer.notices.map((each) => each.code)).toContain("records-files-in-folders");
  });

  it("files too large together are refused before one is opened, and the archive is named", async () => {
    const each = 40 * 2 ** 20;
    for (let i = 0; i * each <= sizeLimits.studyBytes; i++) {
      writeFileSync(join(folder, `weighings-${i}.csv`), "animal_id,at,mass_g\n");
      truncateSync(join(folder, `weighings-${i}.csv`), each);
    }
    expect(await refusal()).toMatch(
      /^UsageError: study folder: .*at most 192 MB.*gramline archive/s,
    );
  });

  it("a file that another program is writing is read when it stands still", async () => {
    const path = join(folder, "weighings.csv");
    let row = 0;
    // Half a row at a time: what is read in between would be 23 g for 2380 g.
    const clock = setInterval(() => {
      const text = `P1,2025-04-${String(++row).padStart(2, "0")} 07:00,2380,410,b1,bucket,dry,before,\n`;
      appendFileSync(path, text.slice(0, 22));
      appendFileSync(path, text.slice(22));
      if (row === 12) clearInterval(clock);
    }, 40);
    const study = await readStudy(folder);
    expect(study.setAside).toEqual([]);
    expect([...study.tables.weighings].every((each) => each.massG >= 1000)).toBe(true);
    clearInterval(clock);
  });

  it("a file that is written on and on is told", async () => {
    const path = join(folder, "weighings.csv");
    let goesOn = true;
    const write = () => {
      if (!goesOn) return;
      appendFileSync(path, "P1,");
      setImmediate(write);
    };
    write();
    const said = await refusal();
    goesOn = false;
    expect(said).toMatch(/^UsageError: weighings\.csv: .*stands still/);
  });
});

describe("text without an end", () => {
  const of = (weighings: string) =>
    parseStudy(
      inputs({
        "study.json": JSON.stringify(settings),
        "animals.csv": animalsCsv,
        "weighings.csv": weighings,
      }),
    );
  const head = "animal_id,at,mass_g\n";

  it("a cell of 8 MB, closed by nothing, is one row set aside and the others are read", () => {
    for (const quote of ["", '"']) {
      const study = of(
        `${head}P1,2025-03-06 07:00,${quote}${"7".repeat(8 * 2 ** 20)}\nP2,2025-03-07 07:00,1512\n`,
      );
      expect(study.counts.find((c) => c.table === "weighings")).toMatchObject({
        rowsIn: 2,
        accepted: 1,
        setAside: 1,
      });
    }
  });

  it("a number of 500,000 letters in every form that is looked for takes no time", () => {
    for (const bit of ["7", "7 ", "7,", "7 - ", "7 (", "7:", "-", "o1", "é7", "7 kg "])
      for (const row of ["P1,2025-03-06 07:00,X", "P1,X,2000", "X,2025-03-06 07:00,2000"]) {
        const cell = `"${bit.repeat(500_000 / bit.length)}"`;
        const study = of(`${head}${row.replace("X", cell)}\nP2,2025-03-07 07:00,1512\n`);
        expect(study.counts.find((c) => c.table === "weighings")?.rowsIn).toBe(2);
      }
  });

  it.each(['"', '""', '"""', 'P1,"', 'P1,"a""', '"\t"', '","', '"a"b'])(
    "20,000 lines of %s take no more than their length",
    (line) => {
      const study = of(`${head}${`${line}\n`.repeat(20_000)}P2,2025-03-07 07:00,1512\n`);
      const { rowsIn, accepted, setAside } = study.counts.find((c) => c.table === "weighings")!;
      expect(rowsIn).toBe(accepted + setAside);
      expect(rowsIn).toBeGreaterThan(0);
    },
  );

  it.each(["le", "be"])(
    "UTF-16 %s with half a letter at its end is read, or said not to be",
    (order) => {
      const marked = Buffer.from(`\ufeff${weighingsCsv}`, "utf16le");
      if (order === "be") marked.swap16();
      const study = parseStudy(
        inputs({
          "study.json": JSON.stringify(settings),
          "animals.csv": animalsCsv,
          "weighings.csv": Buffer.concat([marked, Buffer.from([0x41])]),
        }),
      );
      expect(study.tables.weighings.length).toBe(4);
      expect(study.counts.every((c) => c.rowsIn === c.accepted + c.setAside)).toBe(true);
    },
  );
});

describe("a workbook that claims or holds too much", () => {
  const plain = () =>
    makeWorkbook({
      weighings: {
        rows: [
          ["animal_id", "at", "mass_g"],
          ["P1", "2025-03-06 07:00", 2371],
        ],
      },
    });
  const changed = (change: (xml: string) => string, more: Record<string, Uint8Array> = {}) => {
    const parts = unzipSync(plain());
    const name = Object.keys(parts).find((each) => /sheet1\.xml$/.test(each))!;
    parts[name] = strToU8(change(strFromU8(parts[name]!)));
    return zipSync({ ...parts, ...more });
  };

  it("a sheet that claims every cell there can be is read by what is in it", () => {
    const book = changed((xml) =>
      xml.replace(/<dimension ref="[^"]*"\/>/, '<dimension ref="A1:XFD1048576"/>'),
    );
    const [sheet] = openWorkbook("r.xlsx", book);
    expect(sheet?.rows.length).toBe(2);
    expect(sheet?.rows.every((row) => row.length === 3)).toBe(true);
  });

  it("16,384 columns over many rows are refused by name", () => {
    const rows = Array.from(
      { length: 800 },
      (_, r) => `<row r="${r + 3}"><c r="XFD${r + 3}"><v>1</v></c></row>`,
    );
    const book = changed((xml) =>
      xml
        .replace(/<dimension ref="[^"]*"\/>/, '<dimension ref="A1:XFD802"/>')
        .replace("</sheetData>", `${rows.join("")}</sheetData>`),
    );
    expect(() => openWorkbook("r.xlsx", book)).toThrow(
      /r\.xlsx: needed sheets of at most 10000000 cells/,
    );
  });

  it("more parts than a workbook has, and one archive inside another, are refused or not opened", () => {
    const many = Object.fromEntries(
      Array.from({ length: sizeLimits.workbookParts + 1 }, (_, i) => [`x/${i}`, new Uint8Array(1)]),
    );
    expect(() =>
      openWorkbook(
        "r.xlsx",
        changed((xml) => xml, many),
      ),
    ).toThrow(/r\.xlsx: needed a workbook of at most 2000 parts/);
    const inner = zipSync({ zeros: new Uint8Array(64 * 2 ** 20) });
    const nested = changed((xml) => xml, { "xl/inner.xlsx": zipSync({ inner }, { level: 0 }) });
    expect(openWorkbook("r.xlsx", nested)[0]?.rows.length).toBe(2);
  });
});
