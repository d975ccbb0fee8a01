/**
 * The step before `npm start`, `npm test` and `npm run notebooks`. Plain Node
 * without any dependency, because it must run in a fresh clone: installs the
 * packages when they are missing or differ from the lock file, links the
 * project into its own `node_modules` (notebooks import it by name), and builds
 * `dist` when the sources changed. Does nothing, in a few milliseconds, when all
 * three are in order. Two runs at once take turns.
 */
import { spawnSync } from "node:child_process";
import { createHash } from "node:crypto";
import {
  chmodSync,
  existsSync,
  lstatSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  realpathSync,
  rmSync,
  statSync,
  symlinkSync,
  unlinkSync,
  writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join, relative, resolve, sep } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";

const projectRoot = resolve(dirname(fileURLToPath(import.meta.url)), "..", "..");

/** Runs the three steps. Returns what was done, for tests. */
export function beforeRun(root = projectRoot, say = console.error) {
  return withLock(root, () => {
    const done = [];
    const why = whyInstall(root);
    if (why !== null) {
      say(`gramline: ${why}; installing packages (once, about a minute)`);
      install(root, say);
      done.push("install");
    }
    if (linkToItself(root)) done.push("link");
    const sources = sourcesDigest(root);
    const stamp = join(root, "dist", ".built-from");
    if (!existsSync(join(root, "dist", "index.js")) || textOf(stamp) !== sources) {
      say("gramline: building");
      build(root);
      mkdirSync(dirname(stamp), { recursive: true });
      writeFileSync(stamp, sources);
      done.push("build");
    }
    return done;
  });
}

/** Why packages must be installed, or `null` when they match the lock file. */
export function whyInstall(root) {
  const modules = join(root, "node_modules");
  if (!existsSync(modules)) return "there is no node_modules folder";
  const installedText = textOf(join(modules, ".package-lock.json"));
  if (installedText === null) return "node_modules was not installed by npm";
  const wantedText = textOf(join(root, "package-lock.json"));
  if (wantedText === null) return null;
  const wanted = JSON.parse(wantedText).packages ?? {};
  const installed = JSON.parse(installedText).packages ?? {};
  const canBeAbsent = optionalPeers(wanted, installed);
  for (const [place, entry] of Object.entries(wanted)) {
    // Packages for other operating systems are never installed here.
    if (place === "" || entry.optional || entry.devOptional || entry.peer || entry.link) continue;
    if (canBeAbsent.has(place)) continue;
    const have = installed[place];
    if (have === undefined) return `${place} is missing`;
    if (have.version !== entry.version) {
      return `${place} is version ${have.version}, the lock file asks for ${entry.version}`;
    }
  }
  for (const needed of ["typescript", "tslab", "vitest"]) {
    if (wanted[`node_modules/${needed}`] && !existsSync(join(modules, needed, "package.json"))) {
      return `node_modules/${needed} is missing`;
    }
  }
  return null;
}

/** Optional packages that are not there, and what only they bring: somebody does without them. */
function optionalPeers(wanted, installed) {
  const absent = new Set();
  const leaveOut = (name) => {
    const place = `node_modules/${name}`;
    if (absent.has(place) || installed[place] !== undefined) return;
    absent.add(place);
    for (const needed of Object.keys(wanted[place]?.dependencies ?? {})) leaveOut(needed);
  };
  for (const [name, { optional }] of Object.entries(wanted[""]?.peerDependenciesMeta ?? {}))
    if (optional) leaveOut(name);
  return absent;
}

function install(root, say) {
  // A production setting in the environment must not leave out the compiler.
  const more = ["--include=dev", "--no-audit", "--no-fund"];
  if (runNpm(root, ["ci", ...more]) === 0) return;
  say("gramline: npm ci did not succeed; trying npm install");
  if (runNpm(root, ["install", ...more]) === 0) return;
  throw new Error(
    "The packages could not be installed. Check that this machine reaches the npm registry " +
      "(npm ping), then run npm install here and read its message.",
  );
}

function runNpm(root, args) {
  const npm = process.env.npm_execpath;
  const throughNode = npm !== undefined && /\.c?js$/.test(npm);
  const result = throughNode
    ? spawnSync(process.execPath, [npm, ...args], { cwd: root, stdio: "inherit" })
    : spawnSync("npm", args, { cwd: root, stdio: "inherit", shell: process.platform === "win32" });
  return result.status ?? 1;
}

/** Makes `node_modules/gramline` point at the project. Returns whether it had to. */
export function linkToItself(root) {
  const link = join(root, "node_modules", "gramline");
  let present = null;
  try {
    present = lstatSync(link);
  } catch {
    present = null;
  }
  if (present !== null) {
    try {
      if (realpathSync(link) === realpathSync(root)) return false;
    } catch {
      // A link whose target is gone: replaced below.
    }
    if (present.isSymbolicLink()) unlinkSync(link);
    else rmSync(link, { recursive: true, force: true });
  }
  mkdirSync(dirname(link), { recursive: true });
  if (process.platform === "win32") symlinkSync(root, link, "junction");
  else symlinkSync("..", link, "dir");
  return true;
}

function build(root) {
  const compiler = join(root, "node_modules", "typescript", "bin", "tsc");
  // Types are checked by `npm run types`; asked here again, the build would take twice as long.
  const result = spawnSync(process.execPath, [compiler, "-p", "tsconfig.build.json", "--noCheck"], {
    cwd: root,
    stdio: "inherit",
  });
  if (result.status !== 0) {
    throw new Error("The build failed; the messages above name file and line.");
  }
  removeOrphans(root);
  // As npm makes it when the package is installed: `npx gramline` runs it from a study's folder.
  const command = join(root, "dist", "command-line", "main.js");
  if (existsSync(command)) chmodSync(command, 0o755);
}

/** Removes compiled files whose source is gone, so that nothing stale can be imported. */
function removeOrphans(root) {
  const dist = join(root, "dist");
  for (const path of filesUnder(dist)) {
    const m = /^(.*)\.(?:js|d\.ts)$/.exec(relative(dist, path));
    if (m !== null && !existsSync(join(root, "src", `${m[1]}.ts`))) rmSync(path, { force: true });
  }
}

/** A digest of everything the build reads: contents, not times, so a checkout does not rebuild. */
export function sourcesDigest(root) {
  const hash = createHash("sha256");
  const settings = ["tsconfig.json", "tsconfig.build.json", "package.json", "package-lock.json"];
  const sources = filesUnder(join(root, "src")).filter((path) => path.endsWith(".ts"));
  for (const path of [...settings.map((name) => join(root, name)), ...sources]) {
    const text = textOf(path);
    if (text === null) continue;
    hash.update(relative(root, path).split(sep).join("/")).update("\0").update(text).update("\0");
  }
  return hash.digest("hex");
}

function filesUnder(folder) {
  if (!existsSync(folder)) return [];
  return readdirSync(folder, { withFileTypes: true })
    .sort((a, b) => (a.name < b.name ? -1 : 1))
    .flatMap((entry) => {
      const path = join(folder, entry.name);
      return entry.isDirectory() ? filesUnder(path) : [path];
    });
}

function textOf(path) {
  try {
    return readFileSync(path, "utf8");
  } catch {
    return null;
  }
}

/** One run at a time for a project: the lock is a folder, which only one can make. */
function withLock(root, work) {
  const name = createHash("sha256").update(root).digest("hex").slice(0, 16);
  const lock = join(tmpdir(), `gramline-before-run-${name}`);
  const owner = join(lock, "pid");
  for (;;) {
    try {
      mkdirSync(lock);
      break;
    } catch (error) {
      if (error.code !== "EEXIST") throw error;
      if (ownerIsGone(owner)) rmSync(lock, { recursive: true, force: true });
      else Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0, 200);
    }
  }
  try {
    writeFileSync(owner, String(process.pid));
    return work();
  } finally {
    rmSync(lock, { recursive: true, force: true });
  }
}

function ownerIsGone(owner) {
  // Process numbers are used again; no install or build takes this long.
  const made = statSync(dirname(owner), { throwIfNoEntry: false })?.mtimeMs ?? 0;
  if (Date.now() - made > 30 * 60_000) return true;
  let pid = Number(textOf(owner));
  if (!(pid > 0)) {
    // The other run may be between making the folder and writing its number.
    Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0, 500);
    pid = Number(textOf(owner));
    if (!(pid > 0)) return true;
  }
  try {
    process.kill(pid, 0);
    return false;
  } catch (error) {
    return error.code === "ESRCH";
  }
}

if (process.argv[1] && import.meta.url === pathToFileURL(realpathSync(process.argv[1])).href) {
  try {
    beforeRun();
  } catch (error) {
    console.error(`gramline: ${error.message}`);
    process.exitCode = 1;
  }
}
