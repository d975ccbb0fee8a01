import { spawn } from "node:child_process";
import { createHash } from "node:crypto";
import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { request } from "node:http";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { jsonAnswers } from "../../docs/build/reference/json-answers.js";
import { type PageServer, servePages } from "../../src/command-line/serve-pages.js";
import { type Made, type Watch, watchStudy } from "../../src/command-line/watch-study.js";
import { writeDay } from "../../src/publish/write-day.js";
import { templateWorkbook } from "../../src/records/template-workbook.js";
import { animalsCsv, settings, weighingsCsv } from "../records/small-study.js";

/**
 * The watch over a folder, asked over real connections. What a request must carry is
 * RFC 9110 (Host: 7.2; 405 with Allow: 15.5.6; 421: 15.5.20); a digest in a content
 * policy is CSP level 3, 2.3.1.
 */
const folder = mkdtempSync(join(tmpdir(), "gramline-watch-"));
const file = (name: string) => join(folder, name);
const newest = (grams: number) =>
  `${weighingsCsv}P2,2025-03-08 07:00,${grams},0,b1,carried,dry,before,\n`;

let watch: Watch;
let server: PageServer;
const made: Made[] = [];
beforeAll(async () => {
  writeFileSync(file("study.json"), JSON.stringify(settings));
  writeFileSync(file("animals.csv"), animalsCsv);
  writeFileSync(file("weighings.csv"), weighingsCsv);
  watch = watchStudy(folder, {
    withoutPeople: false,
    now: () => Date.UTC(2025, 2, 9),
    onMade: (each) => {
      made.push(each);
      server?.changed();
    },
  });
  await watch.look();
  server = await servePages(watch.current, 0);
});
afterAll(async () => {
  await server.close();
  rmSync(folder, { recursive: true, force: true });
});

interface Answer {
  readonly status: number;
  readonly headers: Readonly<Record<string, unknown>>;
  readonly body: string;
}

/** Asks by hand, since a browser's way of asking sets its own Host. */
function ask(path: string, options: { method?: string; headers?: Record<string, string> } = {}) {
  const { hostname, port } = new URL(server.address);
  return new Promise<Answer>((done, reject) => {
    const asked = request({ hostname, port, path, ...options }, (response) => {
      let body = "";
      response.on("data", (part) => {
        body += part;
      });
      response.on("end", () =>
        done({ status: response.statusCode ?? 0, headers: response.headers, body }),
      );
    });
    asked.once("error", reject);
    asked.end(options.method === "POST" ? "x" : undefined);
  });
}
const secret = () => new URL(server.address).pathname;

/** Looks as the command does, until something was made; gives up after five seconds. */
async function lookUntilMade(): Promise<Made> {
  const before = made.length;
  const end = Date.now() + 5000;
  while (made.length === before && Date.now() < end) {
    await watch.look();
    await new Promise((go) => setTimeout(go, 50));
  }
  expect(made.length).toBe(before + 1);
  return made.at(-1)!;
}

describe("the pages", () => {
  it("are served under the address alone, to be read only", async () => {
    expect(server.address).toMatch(/^http:\/\/127\.0\.0\.1:\d+\/[\w-]{20,}\/$/);
    const day = await ask(secret());
    expect(day.status).toBe(200);
    expect(day.body).toContain("Thistle");
    expect(day.headers["cache-control"]).toBe("no-store");
    expect(day.headers["content-security-policy"]).toMatch(/frame-ancestors 'none'/);
    for (const name of ["hand-over.html", "feeding-sheet.html"])
      expect((await ask(`${secret()}${name}`)).status, name).toBe(200);
    expect(await ask(secret(), { method: "HEAD" })).toMatchObject({ status: 200, body: "" });
  });

  it.each([
    ["a name that leads to this machine", { host: "nursery.example" }],
    ["the right name and another port", { host: "127.0.0.1:1" }],
    ["another address", { host: "192.0.2.1" }],
  ])("are refused to a Host header with %s", async (_, headers) => {
    const refused = await ask(secret(), { headers });
    expect(refused.status).toBe(421);
    expect(refused.body).not.toContain("Thistle");
  });

  it.each(["/", "/wrong/", "/wrong/index.html", "/favicon.ico", "/../../etc/passwd", "//"])(
    "are not found at %s",
    async (path) => {
      expect((await ask(path)).status).toBe(404);
    },
  );

  it("are not found under names of files of the study", async () => {
    for (const name of ["study.json", "../study.json", "%2e%2e/study.json", "weighings.csv", "x/y"])
      expect((await ask(`${secret()}${name}`)).status, name).toBe(404);
  });

  it.each(["POST", "PUT", "DELETE", "OPTIONS"])(
    "answer %s with what may be asked",
    async (method) => {
      expect(await ask(secret(), { method })).toMatchObject({
        status: 405,
        headers: { allow: "GET, HEAD" },
      });
    },
  );

  it("let one script run, the one that they carry, and ask this address only", async () => {
    const { body } = await ask(secret());
    const policy = /http-equiv="Content-Security-Policy" content="([^"]*)"/.exec(body)![1]!;
    expect(policy).toMatch(/default-src 'none'/);
    expect(policy).toMatch(/connect-src 'self'/);
    const scripts = [...body.matchAll(/<script>([\s\S]*?)<\/script>/g)].map((m) => m[1]!);
    const digests = scripts.map((s) => createHash("sha256").update(s).digest("base64"));
    expect(scripts.length).toBeGreaterThan(0);
    for (const digest of digests) expect(policy).toContain(`'sha256-${digest}'`);
  });
});

describe("what is saved", () => {
  it("is on the page that waits for it, and nothing is made while nothing changes", async () => {
    const before = made.length;
    await watch.look();
    await watch.look();
    expect(made.length).toBe(before);
    const { version, stand } = watch.current();
    const waiting = ask(`${secret()}state?after=${stand}`);
    writeFileSync(file("weighings.csv"), newest(1547));
    expect((await lookUntilMade()).trouble).toBeNull();
    expect(JSON.parse((await waiting).body)).toMatchObject({ version: version + 1, trouble: null });
    expect((await ask(secret())).body).toMatch(/1547|1 547|1 547/);
  });

  it("is told when its page was fetched, at once where nobody waits for it", async () => {
    await server.changed();
    const waiting = ask(`${secret()}state?after=${watch.current().stand}`);
    await new Promise((go) => setTimeout(go, 100));
    let isFetched = false;
    const told = server.changed().then(() => {
      isFetched = true;
    });
    await waiting;
    expect(isFetched).toBe(false);
    await ask(secret());
    await told;
  });

  it("goes before a rehearsal, which shows nothing and changes nothing that is shown", async () => {
    const { stand } = watch.current();
    const before = made.length;
    await watch.rehearse();
    expect([watch.current().stand, made.length]).toEqual([stand, before]);
    const rehearsal = watch.rehearse();
    writeFileSync(file("weighings.csv"), newest(1583));
    await lookUntilMade();
    await rehearsal;
    expect((await ask(secret())).body).toMatch(/1583|1 583|1 583/);
    // Records that cannot be read end no watch while it rehearses.
    writeFileSync(file("study.json"), "{");
    await watch.rehearse();
    writeFileSync(file("study.json"), JSON.stringify(settings));
    await lookUntilMade();
  });

  it("is not what gramline itself writes into the folder", async () => {
    const before = made.length;
    await writeDay(folder, { out: join(folder, "out", "day.html") });
    writeFileSync(file("~$records.xlsx"), "locked by a spreadsheet");
    writeFileSync(file(".weighings.csv.1-abcdef01.part"), "half");
    for (let i = 0; i < 12; i++) {
      await watch.look();
      await new Promise((go) => setTimeout(go, 50));
    }
    expect(made.length).toBe(before);
  });

  it("waits while a file grows", async () => {
    const before = made.length;
    for (let i = 1; i <= 6; i++) {
      writeFileSync(file("weighings.csv"), newest(1600 + i));
      await watch.look();
      await new Promise((go) => setTimeout(go, 100));
    }
    expect(made.length).toBe(before);
    await lookUntilMade();
    expect((await ask(secret())).body).toMatch(/1606|1 606|1 606/);
    // What is kept from look to look changes no page: one that begins now makes the same.
    const fresh = watchStudy(folder, {
      withoutPeople: false,
      now: () => Date.UTC(2025, 2, 9),
      onMade: () => {},
    });
    await fresh.look();
    const withoutScript = ([name, page]: [string, string]) => [
      name,
      page.replace(/'sha256-[^']*'/g, "").replace(/<script>[\s\S]*<\/script>/, ""),
    ];
    expect([...fresh.current().pages].map(withoutScript)).toEqual(
      [...watch.current().pages].map(withoutScript),
    );
  });

  it("cut within a row is waited for, however still it lies there", async () => {
    const before = made.length;
    const whole = readFileSync(file("weighings.csv"), "utf8");
    writeFileSync(file("weighings.csv"), whole.slice(0, -12));
    for (const end = Date.now() + 1500; Date.now() < end; ) {
      await watch.look();
      await new Promise((go) => setTimeout(go, 50));
    }
    expect(made.length).toBe(before);
    writeFileSync(file("weighings.csv"), whole);
    expect((await lookUntilMade()).trouble).toBeNull();
  });

  it("half saved leaves the last page, which says so, and then comes through", async () => {
    const whole = templateWorkbook();
    const { body } = await ask(secret());
    writeFileSync(file("records.xlsx"), whole.slice(0, whole.length / 2));
    const half = await lookUntilMade();
    expect(half.trouble).toMatch(/records\.xlsx/);
    expect((await ask(secret())).body).toBe(body);
    const state = JSON.parse((await ask(`${secret()}state?after=-1`)).body);
    expect(state.trouble).toMatch(/records\.xlsx.*still shows the records as they were/s);
    rmSync(file("records.xlsx"));
    expect((await lookUntilMade()).trouble).toBeNull();
  });
});

const main = fileURLToPath(new URL("../../dist/command-line/main.js", import.meta.url));
it.skipIf(!existsSync(main))(
  "the command prints the check and the address, and ends with Ctrl-C",
  async () => {
    const child = spawn(process.execPath, [main, "watch", folder], {
      stdio: ["ignore", "pipe", "pipe"],
    });
    const ended = new Promise<number | null>((done) => child.once("exit", done));
    let said = "";
    const address = new Promise<string>((done) => {
      child.stdout.on("data", (part) => {
        said += part;
        const found = /Open (http:\S+)/.exec(said)?.[1];
        if (found !== undefined) done(found);
      });
    });
    const page = await (await fetch(await address)).text();
    expect(page).toContain("Thistle");
    expect(said).toMatch(/rows = \d+ accepted/);
    // Nothing in colour or moving where it goes into a file.
    expect(said).not.toContain("\u001b");
    child.kill("SIGINT");
    expect(await ended).toBe(0);
    await expect(fetch(await address)).rejects.toThrow();
    expect(readFileSync(file("weighings.csv"), "utf8")).toBe(newest(1606));
  },
);

it.skipIf(!existsSync(main))(
  "with --json the command prints one object a line, and with --quiet the address alone",
  async () => {
    const firstLines = async (option: string, count: number) => {
      const child = spawn(process.execPath, [main, "watch", folder, option], {
        stdio: ["ignore", "pipe", "pipe"],
      });
      const ended = new Promise<number | null>((done) => child.once("exit", done));
      let said = "";
      await new Promise<void>((done) => {
        child.stdout.on("data", (part) => {
          said += part;
          if (said.split("\n").length > count) done();
        });
      });
      child.kill("SIGINT");
      expect(await ended).toBe(0);
      return said.trimEnd().split("\n");
    };
    const lines = (await firstLines("--json", 2)).map((line) => JSON.parse(line));
    expect(lines.map(({ kind }) => kind)).toEqual(["watch-made", "watch"]);
    for (const line of lines)
      expect(Object.keys(line).sort()).toEqual(
        ["kind", "schema", ...Object.keys(jsonAnswers[line.kind]!)].sort(),
      );
    expect(await firstLines("--quiet", 1)).toEqual([
      expect.stringMatching(/^http:\/\/127\.0\.0\.1:/),
    ]);
  },
);
