// A notebook in JupyterLab, as a person drives it: opened in Chromium, every cell run by the command
// of its menu, charts and words looked at, and long work ended by the command of its stop button.
//   lab.mjs FOLDER PICTURE [PROGRAM]: where a copy of the notebooks is made; where the picture goes;
//   jupyter-lab, where it is not in the path
import { spawn } from "node:child_process";
import { cpSync, mkdirSync, symlinkSync, writeFileSync } from "node:fs";
import { join, resolve } from "node:path";
import { createServer } from "node:net";
import { openPage, picture, withBrowser } from "./browser.mjs";

const [folder, shot, program = "jupyter-lab"] = process.argv.slice(2);
const place = resolve(folder, "lab");
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
  program,
  [
    "--no-browser",
    "--allow-root",
    "--ip=127.0.0.1",
    `--port=${port}`,
    "--IdentityProvider.token=",
    "--LabApp.expose_app_in_browser=True",
    // Nothing is asked of the net: no news, no list of extensions.
    "--LabApp.news_url=",
    "--LabApp.check_for_updates_class=jupyterlab.NeverCheckForUpdate",
    `--ServerApp.root_dir=${place}`,
  ],
  {
    env: { ...process.env, JUPYTER_RUNTIME_DIR: join(place, "runtime"), JUPYTER_CONFIG_DIR: join(place, "config") },
    detached: true,
  },
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
    await new Promise((go) => setTimeout(go, 200));
  }
  throw new Error(`${what}: not within ${seconds} s`);
};

try {
  await until("JupyterLab", async () => (await fetch(`${at}api/kernelspecs`)).ok, 60);
  await withBrowser(async (browser) => {
    const page = await openPage(browser, `${at}lab/tree/notebooks/slow-gainer.ipynb?reset`);
    const panel = "jupyterapp.shell.currentWidget";
    await until("the kernel", () => page.run(`${panel}.sessionContext.session?.kernel?.status === "idle"`), 120);
    needed("the notebook opens with the kernel that it names", (await page.run(`${panel}.sessionContext.session.kernel.name`)) === "tslab");
    await page.run(`jupyterapp.commands.execute("notebook:run-all-cells"); true`);
    const code = `${panel}.content.widgets.filter((c) => c.model.type === "code")`;
    const outputs = `${code}.flatMap((c) => c.model.outputs.toJSON())`;
    let bar = false;
    await until("every cell", async () => {
      bar ||= await page.run("document.querySelector('.jp-OutputArea progress') !== null");
      return page.run(`${code}.every((c) => Number.isInteger(c.model.executionCount))`);
    }, 200);
    needed("a bar said how far the work was", bar);
    const failed = await page.run(`${outputs}.filter((o) => o.output_type === "error" || o.name === "stderr").length`);
    needed("no cell fails, none writes a warning", failed === 0);
    // Cells out of sight are not drawn: the first ones are brought into it.
    await page.run(`${panel}.content.scrollToItem(2); true`);
    const drawn = "document.querySelectorAll('.jp-OutputArea svg, .jp-OutputArea canvas.marks').length";
    await until("a chart", () => page.run(`${drawn} > 0`), 60);
    needed(`charts stand under their cells (${await page.run(drawn)})`, true);
    needed("the bar is gone", (await page.run("document.querySelectorAll('.jp-OutputArea progress').length")) === 0);
    writeFileSync(shot, await picture(page, { top: 0, height: 1600 }));

    // What the Tab key and Shift-Tab ask of the kernel.
    const kernel = `${panel}.sessionContext.session.kernel`;
    const completed = await page.run(`${kernel}.requestComplete({ code: "g.ask", cursor_pos: 5 }).then((r) => r.content.matches)`);
    needed(`Tab completes (${completed})`, completed.includes("askDay") && completed.includes("askSlowGainer"));
    const hovered = await page.run(
      `${kernel}.requestInspect({ code: "g.askSlowGainer", cursor_pos: 14, detail_level: 0 }).then((r) => r.content.data["text/plain"] ?? "")`,
    );
    needed(`Shift-Tab shows a function with its words (${hovered.slice(0, 60)}…)`, /askSlowGainer\(/.test(hovered));

    // Long work, and the stop button of the tool bar.
    await page.run(`(async () => {
      ${panel}.content.activeCellIndex = ${panel}.content.widgets.length - 1;
      await jupyterapp.commands.execute("notebook:insert-cell-below");
      window.long = ${panel}.content.activeCell;
      window.long.model.sharedModel.setSource(\`let steps = 0;
await g.notebook.withProgress(async ({ signal, onProgress }: g.LongWork) => {
  for (; steps < 1e6; steps++) {
    if (signal?.aborted) throw signal.reason;
    onProgress?.({ done: steps, total: 1e6, doing: "a step" });
    await new Promise((go) => setTimeout(go, 20));
  }
});\`);
      jupyterapp.commands.execute("notebook:run-cell");
      return true;
    })()`);
    const said = "JSON.stringify(window.long.model.outputs.toJSON())";
    await until("the bar of the long work", () => page.run(`/<progress/.test(${said})`), 60);
    await page.run(`jupyterapp.commands.execute("notebook:interrupt-kernel"); true`);
    await until("the stop", () => page.run(`/Stopped: nothing of this question goes on/.test(${said})`), 60);
    needed("the stop button ends the work, with a word", true);
  });
} finally {
  process.kill(-server.pid, "SIGTERM");
}
