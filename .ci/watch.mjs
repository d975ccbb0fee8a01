// A study is watched: the page open in Chromium loads itself again when a sheet is saved, keeps its
// place and its open folds, asks nobody else, and says so when it is no longer kept up to date.
//   watch.mjs FOLDER: where a copy of the demo study is made
import { spawn } from "node:child_process";
import { appendFileSync, cpSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { openPage, withBrowser } from "./browser.mjs";

const study = join(process.argv[2], "watched");
cpSync("data-demo", study, { recursive: true });
const child = spawn(process.execPath, ["dist/command-line/main.js", "watch", study]);
const address = new Promise((done, fail) => {
  let said = "";
  child.stdout.on("data", (part) => {
    said += part;
    const found = /Open (http:\S+)/.exec(said)?.[1];
    if (found) done(found);
  });
  child.once("exit", (code) => fail(new Error(`watch ended with ${code}: ${said}`)));
});
const needed = (what, so) => {
  console.log(`${so ? "ok" : "NOT SO"}: ${what}`);
  if (!so) process.exitCode = 1;
};
const until = async (what, ask, seconds = 30) => {
  const started = Date.now();
  while (Date.now() - started < seconds * 1000) {
    if (await ask().catch(() => false)) return (Date.now() - started) / 1000;
    await new Promise((go) => setTimeout(go, 100));
  }
  throw new Error(`${what} did not come within ${seconds} s`);
};

try {
  const at = await address;
  await withBrowser(async (browser) => {
    const page = await openPage(browser, `${at}hand-over.html`, { width: 700 });
    const folds = await page.run("document.querySelectorAll('details').length");
    needed("the page has folds and is longer than the screen", folds > 0);
    // As a person comes to a sheet: the page has been read before the first row is saved.
    await new Promise((go) => setTimeout(go, 8000));
    await page.run(
      "[...document.querySelectorAll('details')].forEach((d, i) => { d.open = i % 2 === 0; }); scrollTo(0, 340); window.before = true; true",
    );
    const place = await page.run("scrollY");
    needed("it can be scrolled", place > 0);
    const lines = readFileSync(join(study, "weighings.csv"), "utf8").trimEnd().split("\n");
    const cells = lines.at(-1).split(",");
    cells[1] = cells[1].replace(/:\d\d$/, ":59");
    appendFileSync(join(study, "weighings.csv"), `${cells.join(",")}\n`);
    const took = await until("the new page", async () => (await page.run("window.before")) !== true);
    needed(`the first row saved was on the page after ${took.toFixed(1)} s, 3 at most`, took <= 3);
    await until("its place", async () => (await page.run("scrollY")) === place);
    const open = await page.run("[...document.querySelectorAll('details')].map((d) => d.open)");
    needed("open folds are open and closed ones closed", open.every((o, i) => o === (i % 2 === 0)));
    const elsewhere = page.requests.filter((url) => !url.startsWith(at) && !url.startsWith("data:"));
    // The browser itself asks for a picture of its own for the tab.
    const asked = elsewhere.filter((url) => !url.endsWith("/favicon.ico"));
    needed(`it asks nobody else (${asked})`, asked.length === 0);
    const blocked = page.complaints.filter((text) => /policy|script/i.test(text));
    needed(`its policy stops nothing of its own (${blocked})`, blocked.length === 0);
    child.removeAllListeners("exit");
    const ended = new Promise((done) => child.once("exit", done));
    child.kill("SIGINT");
    needed("Ctrl-C ends it with 0", (await ended) === 0);
    await until("what is said of an old page", async () =>
      /no longer kept up to date/.test(await page.run("document.querySelector('[role=alert]').textContent")),
    );
    needed("an old page says that it is old", true);
  });
} finally {
  child.kill("SIGKILL");
}
