import {
  accessSync,
  constants,
  existsSync,
  mkdirSync,
  mkdtempSync,
  rmdirSync,
  rmSync,
  writeFileSync,
} from "node:fs";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { UsageError } from "../core/usage-error.js";
import { libraryVersion } from "../publish/version.js";
import { readStudy } from "../records/files/read-study.js";
import { startKernel } from "./notebook-kernel.js";
import { findJupyter, jupyterFix } from "./notebooks-in-jupyter.js";

export interface DoctorCheck {
  readonly what: string;
  /** "optional": works without, with less comfort. */
  readonly state: "ok" | "missing" | "optional";
  readonly found: string;
  /** What to do about it; empty when nothing is to be done. */
  readonly fix: string;
}

/**
 * Checks Node, the library, the place one stands in, what notebooks there find, Jupyter,
 * fonts and write access.
 *
 * @param home the folder gramline lies in: a clone, or a package that was installed.
 * @param place the folder one stands in: a study, a project of one's own, the clone.
 */
export async function doctor(home: string, place: string = home): Promise<DoctorCheck[]> {
  const notebooks = join(place, "notebooks");
  return [
    nodeCheck(process.versions.node),
    libraryCheck(home),
    await placeCheck(place),
    ...(await kernelChecks(existsSync(notebooks) ? notebooks : place)),
    ...optionalPackages.map((each) => optionalPackageCheck(place, each)),
    jupyterCheck(),
    ...fontChecks(home),
    writeCheck(join(place, "out")),
    writeCheck(tmpdir()),
  ];
}

/** The checks as lines for a terminal. */
export function doctorText(checks: readonly DoctorCheck[]): string {
  const width = Math.max(...checks.map((check) => check.what.length));
  const word = { ok: "ok      ", missing: "MISSING ", optional: "optional" };
  return checks
    .map((check) => {
      const line = `${word[check.state]}  ${check.what.padEnd(width)}  ${check.found}`;
      return check.fix === "" ? line : `${line}\n            fix: ${check.fix}`;
    })
    .join("\n");
}

/** Node must be able to require a module: 20.19 or newer on the 20 line, 22.12 or newer after it. */
export function nodeCheck(version: string): DoctorCheck {
  const [major = 0, minor = 0] = version.split(".").map(Number);
  const good = major > 22 || (major === 22 && minor >= 12) || (major === 20 && minor >= 19);
  return {
    what: "Node",
    state: good ? "ok" : "missing",
    found: version,
    fix: good ? "" : "Install Node 20.19 or newer (or 22.12 or newer) from nodejs.org.",
  };
}

function libraryCheck(home: string): DoctorCheck {
  const what = "library";
  const built = existsSync(join(home, "dist", "index.js"));
  if (!existsSync(join(home, "src", "index.ts"))) {
    const found = `gramline ${libraryVersion()}, installed${built ? "" : ", its files are not whole"}`;
    return built
      ? { what, state: "ok", found, fix: "" }
      : { what, state: "missing", found, fix: "Install it anew: npm install gramline" };
  }
  const linked = existsSync(join(home, "node_modules", "gramline", "package.json"));
  return {
    what,
    state: built && linked ? "ok" : "missing",
    found: built ? (linked ? "built and linked" : "built, not linked") : "not built",
    fix: built && linked ? "" : `In ${home}, run: node src/command-line/before-run.mjs`,
  };
}

/** What the folder one stands in is. */
async function placeCheck(place: string): Promise<DoctorCheck> {
  const what = "this folder";
  if (!existsSync(join(place, "study.json")))
    return { what, state: "ok", found: `${place}: no study of its own`, fix: "" };
  try {
    const { settings, tables } = await readStudy(place);
    const found = `the study "${settings.title}" (${settings.zone}), animals: ${tables.animals.length}`;
    return { what, state: "ok", found, fix: "" };
  } catch (error) {
    if (!(error instanceof UsageError)) throw error;
    return { what, state: "missing", found: error.message, fix: "Run: npx gramline check ." };
  }
}

/** Whether the kernel answers, and whether a notebook that lies there finds the library. */
async function kernelChecks(folder: string): Promise<DoctorCheck[]> {
  const started = Date.now();
  try {
    const kernel = await startKernel(folder, 60);
    const ask = async (code: string) => {
      let said = "";
      await kernel.execute(
        code,
        (message) => {
          said += String(message.content["text"] ?? "");
        },
        60,
      );
      return said.trim();
    };
    try {
      const answer = await ask("console.log(6 * 7)");
      if (answer !== "42") throw new Error(`it answered "${answer}"`);
      const seconds = ((Date.now() - started) / 1000).toFixed(1);
      const finds = await ask('import * as g from "gramline";\nconsole.log(typeof g.readStudy);');
      const isFound = finds === "function";
      return [
        { what: "notebook kernel", state: "ok", found: `answers in ${seconds} s`, fix: "" },
        {
          what: "notebooks here",
          state: isFound ? "ok" : "optional",
          found: isFound ? "find the library" : `find no library from ${folder}`,
          fix: isFound
            ? ""
            : "Make a study with: npx gramline new ../my-nursery; or install it here: npm install gramline",
        },
      ];
    } finally {
      await kernel.stop();
    }
  } catch (error) {
    return [
      {
        what: "notebook kernel",
        state: "missing",
        found: (error as Error).message.split("\n")[0]!,
        fix: "Delete node_modules and run npm install (not with --ignore-scripts).",
      },
    ];
  }
}

/** Packages that one notebook or one command asks for, and everything else does without. */
const optionalPackages = [
  { what: "data frames", name: "danfojs-node", version: "1.2.0" },
  { what: "archive of many studies", name: "@duckdb/node-api", version: "1.5.6-r.1" },
] as const;

function optionalPackageCheck(
  place: string,
  { what, name, version }: (typeof optionalPackages)[number],
): DoctorCheck {
  try {
    createRequire(join(place, "package.json")).resolve(name);
    return { what, state: "ok", found: `${name} is installed`, fix: "" };
  } catch {
    return {
      what,
      state: "optional",
      found: `${name} is not installed; everything else works without it`,
      fix: `npm install ${name}@${version}`,
    };
  }
}

function jupyterCheck(): DoctorCheck {
  const found = findJupyter();
  return {
    what: "Jupyter",
    state: found === null ? "optional" : "ok",
    found: found?.version ?? "not installed; npm start works without it",
    fix: found === null ? jupyterFix() : "",
  };
}

function fontChecks(projectRoot: string): DoctorCheck[] {
  const font = join(projectRoot, "src", "charts", "fonts", "Inter-Regular.otf");
  const present = existsSync(font);
  const checks: DoctorCheck[] = [
    {
      what: "chart font",
      state: present ? "ok" : "missing",
      found: present ? "Inter comes with the project" : "the font file is gone",
      fix: present ? "" : "Restore src/charts/fonts from the project.",
    },
  ];
  try {
    createRequire(import.meta.url)("@resvg/resvg-js");
    checks.push({ what: "PNG pictures", state: "ok", found: "can be drawn", fix: "" });
  } catch {
    checks.push({
      what: "PNG pictures",
      state: "optional",
      found: "the drawing package has no build for this machine; SVG works",
      fix: "Word reports then carry no pictures; run them on another machine.",
    });
  }
  return checks;
}

function writeCheck(folder: string): DoctorCheck {
  const wasThere = existsSync(folder);
  try {
    mkdirSync(folder, { recursive: true });
    accessSync(folder, constants.W_OK);
    const trial = mkdtempSync(join(folder, "gramline-write-"));
    writeFileSync(join(trial, "trial"), "1");
    rmSync(trial, { recursive: true });
    // Looked at, not begun: nothing is left behind.
    if (!wasThere) rmdirSync(folder);
    return { what: "write access", state: "ok", found: folder, fix: "" };
  } catch (error) {
    return {
      what: "write access",
      state: "missing",
      found: `${folder}: ${(error as Error).message}`,
      fix: `Make ${folder} writable for you, or free disk space.`,
    };
  }
}
