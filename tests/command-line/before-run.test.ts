import { spawn } from "node:child_process";
import { createHash } from "node:crypto";
import {
  existsSync,
  mkdirSync,
  mkdtempSync,
  readFileSync,
  realpathSync,
  rmSync,
  symlinkSync,
  utimesSync,
  writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import { afterEach, beforeEach, describe, expect, it } from "vitest";

const script = fileURLToPath(new URL("../../src/command-line/before-run.mjs", import.meta.url));
const step = (await import(pathToFileURL(script).href)) as {
  beforeRun(root: string, say: (line: string) => void): string[];
  whyInstall(root: string): string | null;
  linkToItself(root: string): boolean;
  sourcesDigest(root: string): string;
};

let root: string;
const put = (path: string, text: string) => {
  mkdirSync(dirname(join(root, path)), { recursive: true });
  writeFileSync(join(root, path), text);
};
const lock = (entries: object) => JSON.stringify({ packages: { "": {}, ...entries } });

/** A project whose compiler writes one file and a line of a log, or fails when told so. */
beforeEach(() => {
  root = realpathSync(mkdtempSync(join(tmpdir(), "gramline-before-")));
  put("package.json", "{}");
  put("tsconfig.build.json", "{}");
  put("src/index.ts", "export {};");
  put("package-lock.json", lock({ "node_modules/a": { version: "1.0.0" } }));
  put("node_modules/.package-lock.json", lock({ "node_modules/a": { version: "1.0.0" } }));
  put(
    "node_modules/typescript/bin/tsc",
    `const fs = require("node:fs");
     fs.appendFileSync("builds.log", "built\\n");
     if (fs.existsSync("broken")) process.exit(2);
     const until = Date.now() + 400; while (Date.now() < until);
     fs.mkdirSync("dist", { recursive: true });
     fs.writeFileSync("dist/index.js", "export {};");`,
  );
});
afterEach(() => rmSync(root, { recursive: true, force: true }));

const builds = () => {
  const log = join(root, "builds.log");
  return existsSync(log) ? readFileSync(log, "utf8").trim().split("\n").length : 0;
};

describe("the step before a run", () => {
  it("builds once, then does nothing until a source changes", () => {
    const said: string[] = [];
    expect(step.beforeRun(root, (line) => said.push(line))).toEqual(["link", "build"]);
    expect(step.beforeRun(root, (line) => said.push(line))).toEqual([]);
    expect(said).toEqual(["gramline: building"]);
    // A checkout gives files new times without new contents.
    utimesSync(join(root, "src/index.ts"), new Date(), new Date());
    expect(step.beforeRun(root, () => {})).toEqual([]);
    put("src/index.ts", "export const a = 1;");
    expect(step.beforeRun(root, () => {})).toEqual(["build"]);
    expect(builds()).toBe(2);
  });

  it("removes what was built from a source that is gone", () => {
    put("dist/old.js", "");
    put("dist/old.d.ts", "");
    step.beforeRun(root, () => {});
    expect(existsSync(join(root, "dist/old.js"))).toBe(false);
    expect(existsSync(join(root, "dist/index.js"))).toBe(true);
  });

  it("fails with a sentence when the build fails, and tries again the next time", () => {
    put("broken", "");
    expect(() => step.beforeRun(root, () => {})).toThrow(/build failed/);
    rmSync(join(root, "broken"));
    expect(step.beforeRun(root, () => {})).toEqual(["build"]);
  });

  it("does not wait for a run that died, nor for a number that another process has now", () => {
    const name = createHash("sha256").update(root).digest("hex").slice(0, 16);
    const held = join(tmpdir(), `gramline-before-run-${name}`);
    mkdirSync(held);
    // No process has this number (they end far below it).
    writeFileSync(join(held, "pid"), "999999999");
    expect(step.beforeRun(root, () => {})).toEqual(["link", "build"]);
    mkdirSync(held);
    writeFileSync(join(held, "pid"), String(process.pid));
    const longAgo = new Date(Date.now() - 3_600_000);
    utimesSync(held, longAgo, longAgo);
    expect(step.beforeRun(root, () => {})).toEqual([]);
    expect(existsSync(held)).toBe(false);
  });

  it("takes turns when started three times at once: one build", async () => {
    const code = `import(${JSON.stringify(pathToFileURL(script).href)}).then((m) => m.beforeRun(${JSON.stringify(root)}, () => {}))`;
    const exits = await Promise.all(
      [1, 2, 3].map(
        () =>
          new Promise((done) => {
            spawn(process.execPath, ["-e", code], { stdio: "inherit" }).once("exit", done);
          }),
      ),
    );
    expect(exits).toEqual([0, 0, 0]);
    expect(builds()).toBe(1);
  });
});

describe("whether packages must be installed", () => {
  it("is no when node_modules holds what the lock file asks for, whatever the times say", () => {
    utimesSync(
      join(root, "package-lock.json"),
      new Date(Date.now() + 1e6),
      new Date(Date.now() + 1e6),
    );
    expect(step.whyInstall(root)).toBeNull();
  });

  it("is yes, with the reason, for a missing folder, a missing package, another version", () => {
    put("package-lock.json", lock({ "node_modules/a": { version: "1.0.1" } }));
    expect(step.whyInstall(root)).toBe(
      "node_modules/a is version 1.0.0, the lock file asks for 1.0.1",
    );
    put("package-lock.json", lock({ "node_modules/b": { version: "1.0.0" } }));
    expect(step.whyInstall(root)).toBe("node_modules/b is missing");
    rmSync(join(root, "node_modules"), { recursive: true });
    expect(step.whyInstall(root)).toBe("there is no node_modules folder");
  });

  it("lets an optional package be absent with what only it brings, and nothing else", () => {
    const optional = { optional: true };
    const packages = {
      "": { peerDependenciesMeta: { engine: optional } },
      "node_modules/engine": { version: "1.0.0", dev: true, dependencies: { inside: "1" } },
      "node_modules/inside": { version: "1.0.0", dev: true },
      "node_modules/a": { version: "1.0.0" },
    };
    put("package-lock.json", JSON.stringify({ packages }));
    expect(step.whyInstall(root)).toBeNull();
    // There, but not the one asked for: that is put right.
    const both = {
      "node_modules/a": { version: "1.0.0" },
      "node_modules/engine": { version: "0.9.0" },
    };
    put("node_modules/.package-lock.json", lock(both));
    expect(step.whyInstall(root)).toContain("node_modules/engine is version 0.9.0");
    put(
      "node_modules/.package-lock.json",
      lock({ "node_modules/engine": both["node_modules/engine"] }),
    );
    expect(step.whyInstall(root)).not.toBeNull();
  });

  it("leaves out packages for other operating systems", () => {
    put(
      "package-lock.json",
      lock({ "node_modules/elsewhere": { version: "1.0.0", optional: true } }),
    );
    expect(step.whyInstall(root)).toBeNull();
  });
});

describe("the link to the project itself", () => {
  it("is made, kept, and mended when it leads elsewhere", () => {
    expect(step.linkToItself(root)).toBe(true);
    expect(realpathSync(join(root, "node_modules/gramline"))).toBe(root);
    expect(step.linkToItself(root)).toBe(false);
    rmSync(join(root, "node_modules/gramline"));
    symlinkSync("../nowhere", join(root, "node_modules/gramline"));
    expect(step.linkToItself(root)).toBe(true);
    expect(realpathSync(join(root, "node_modules/gramline"))).toBe(root);
  });
});
