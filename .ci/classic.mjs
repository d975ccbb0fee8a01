// A notebook in the classic front end of Jupyter, as a person drives it: opened in Chromium, every
// cell run from its menu, charts asked with the pointer, and long work ended by its stop button.
//   classic.mjs FOLDER PICTURE: where a copy of the notebooks is made; where the picture goes
import { spawn } from "node:child_process";
import { cpSync, mkdirSync, symlinkSync, writeFileSync } from "node:fs";
import { join, resolve } from "node:path";
import { createServer } from "node:net";
import { openPage, picture, withBrowser } from "./browser.mjs";

const [folder, shot] = process.argv.slice(2);
const place = resolve(folder, "classic");
mkdirSync(place, { recursive: true });
cpSync("notebooks", join(place, "notebooks"), { recursive: true });
cpSync("data-demo", join(place, "data-demo"), { recursive: true });
// A study of one's own has the packages beside it in the same way.
symlinkSync(resolve("node_modules"), join(place, "node_modules"));

// Jupyter does not say which port it took when it may choose one.
const port = await new Promise((done) => {
  const taken = createServer().listen(0, "127.0.0.1", () => {
    const { port: free } = taken.address();
    taken.close(() => done(free));
  });
});
const at = `http://127.0.0.1:${port}/`;
const server = spawn(
  "jupyter",
  [
    "notebook",
    "--no-browser",
    "--allow-root",
    "--ip=127.0.0.1",
    `--port=${port}`,
    "--NotebookApp.token=",
    "--NotebookApp.password=",
    `--notebook-dir=${place}`,
  ],
  { env: { ...process.env, JUPYTER_RUNTIME_DIR: join(place, "runtime") }, detached: true },
);
server.stderr.resume();
const needed = (what, so) => {
  console.log(`${so ? "ok" : "NOT SO"}: ${what}`);
  if (!so) process.exitCode = 1;
};
const until = async (what, ask, seconds) => {
  const started = Date.now();
  while (Date.now() - started < seconds * 1000) {
    if (await ask().catch(() => false)) return;
    await new Promise((go) => setTimeout(go, 100));
  }
  throw new Error(`${what}: not within ${seconds} s`);
};

try {
  await until("Jupyter", async () => (await fetch(`${at}api/kernelspecs`)).ok, 30);
  await withBrowser(async (browser) => {
    const page = await openPage(browser, `${at}notebooks/notebooks/slow-gainer.ipynb`);
    const nb = "Jupyter.notebook";
    await until("the kernel", () => page.run(`${nb}.kernel?.is_connected() === true`), 60);
    needed("the notebook opens with the kernel that it names", (await page.run(`${nb}.kernel.name`)) !== null);
    await page.run(`${nb}.execute_all_cells(); true`);
    const ran = `${nb}.get_cells().filter((c) => c.cell_type === "code")
      .every((c) => Number.isInteger(c.input_prompt_number))`;
    let bar = false;
    await until("every cell", async () => {
      bar ||= await page.run("document.querySelector('.output progress') !== null");
      return page.run(ran);
    }, 110);
    needed("a bar said how far the work was", bar);
    const failed = await page.run("document.querySelectorAll('.output_error, .output_stderr').length");
    needed("no cell fails, none writes a warning", failed === 0);
    const charts = await page.run("document.querySelectorAll('.output svg').length");
    const words = await page.run("document.querySelector('.output p.where').textContent");
    needed(`parts of a line stay apart without a style (${words})`, /\S · \S/.test(words));
    const cut = await page.run(`[...document.querySelectorAll('.output svg')].flatMap((svg) => {
      const room = svg.getBoundingClientRect();
      return [...svg.querySelectorAll('text')].filter((t) => {
        const { left, right } = t.getBoundingClientRect();
        return right > room.right + 1 || left < room.left - 1;
      }).map((t) => t.textContent);
    })`);
    needed(`no text of a chart is cut off (${cut})`, cut.length === 0);
    needed(`charts stand under their cells (${charts})`, charts > 0);
    needed("the bar is gone", (await page.run("document.querySelectorAll('.output progress').length")) === 0);
    writeFileSync(shot, await picture(page, { top: 0, height: 3000 }));

    // What the Tab key and Shift-Tab ask of the kernel.
    const completed = await page.run(
      `new Promise((done) => ${nb}.kernel.complete("g.ask", 5, (r) => done(r.content.matches)))`,
    );
    needed(`Tab completes (${completed})`, completed.includes("askDay") && completed.includes("askSlowGainer"));
    const hovered = await page.run(
      `new Promise((done) => ${nb}.kernel.inspect("g.askSlowGainer", 14, (r) => done(r.content.data?.["text/plain"] ?? "")))`,
    );
    needed(`Shift-Tab shows a function with its words (${hovered.slice(0, 60)}…)`, /askSlowGainer\(/.test(hovered) && /slow/.test(hovered.replaceAll("askSlowGainer", "")));

    // Long work, and the stop button of the tool bar.
    await page.run(`(() => {
      const cell = ${nb}.insert_cell_at_bottom("code");
      cell.set_text(\`let steps = 0;
await g.notebook.withProgress(async ({ signal, onProgress }: g.LongWork) => {
  for (; steps < 1e6; steps++) {
    if (signal?.aborted) throw signal.reason;
    onProgress?.({ done: steps, total: 1e6, doing: "a step" });
    await new Promise((go) => setTimeout(go, 20));
  }
});\`);
      window.long = cell;
      cell.execute();
      return true;
    })()`);
    await until("the bar of the long work", () => page.run("window.long.element[0].querySelector('progress') !== null"), 30);
    await page.run("document.querySelector('#interrupt_kernel, [data-jupyter-action=\"jupyter-notebook:interrupt-kernel\"]').click(); true");
    await until("the stop", () => page.run("/Stopped: nothing of this question goes on/.test(window.long.element[0].textContent)"), 30);
    needed("the stop button ends the work, with a word", true);
  });
} finally {
  process.kill(-server.pid, "SIGTERM");
}
