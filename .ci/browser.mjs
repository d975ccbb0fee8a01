// One headless Chromium, spoken to over a pipe by the Chrome DevTools Protocol
// (https://chromedevtools.github.io/devtools-protocol/). Plain Node, no package.
import { spawn } from "node:child_process";
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { pathToFileURL } from "node:url";

/** Starts the browser, hands it to `work`, and ends it whatever happens. */
export async function withBrowser(work) {
  const profile = mkdtempSync(join(tmpdir(), "look-"));
  const child = spawn(
    "chromium",
    [
      "--headless",
      "--no-sandbox",
      "--disable-gpu",
      "--disable-quic",
      "--no-first-run",
      "--disable-background-networking",
      "--disable-component-update",
      "--disable-sync",
      "--hide-scrollbars",
      `--user-data-dir=${profile}`,
      "--remote-debugging-pipe",
    ],
    { stdio: ["ignore", "ignore", "ignore", "pipe", "pipe"] },
  );
  const browser = connection(child);
  const late = setTimeout(() => child.kill("SIGKILL"), 120_000);
  try {
    return await work(browser);
  } finally {
    clearTimeout(late);
    const ended = new Promise((done) => child.once("exit", done));
    await browser.send("Browser.close").catch(() => child.kill("SIGKILL"));
    if (child.exitCode === null && child.signalCode === null) await ended;
    rmSync(profile, { recursive: true, force: true, maxRetries: 10, retryDelay: 100 });
  }
}

function connection(child) {
  const [, , , write, read] = child.stdio;
  const waiting = new Map();
  const listeners = new Set();
  let next = 0;
  let rest = "";
  read.setEncoding("utf8");
  read.on("data", (part) => {
    const messages = (rest + part).split("\0");
    rest = messages.pop();
    for (const text of messages) {
      const message = JSON.parse(text);
      const call = waiting.get(message.id);
      if (call === undefined) for (const listener of listeners) listener(message);
      else {
        waiting.delete(message.id);
        if (message.error) call.fail(new Error(`${call.method}: ${message.error.message}`));
        else call.done(message.result);
      }
    }
  });
  child.once("exit", () => {
    for (const call of waiting.values()) call.fail(new Error("the browser ended"));
  });
  const send = (method, params = {}, sessionId = undefined) =>
    new Promise((done, fail) => {
      const id = ++next;
      waiting.set(id, { method, done, fail });
      write.write(`${JSON.stringify({ id, method, params, sessionId })}\0`);
    });
  return { send, listeners };
}

/**
 * Opens a file, or an address, as a page. `dark`: what the reader prefers; `scripts`: false as
 * for a reader who lets none run. Gathers what it asked for and complained of.
 */
export async function openPage(browser, path, { width = 1100, dark = false, scripts = true } = {}) {
  const { targetId } = await browser.send("Target.createTarget", { url: "about:blank" });
  const { sessionId } = await browser.send("Target.attachToTarget", { targetId, flatten: true });
  const send = (method, params) => browser.send(method, params, sessionId);
  const requests = [];
  const complaints = [];
  let loaded;
  const load = new Promise((done) => (loaded = done));
  const listener = (message) => {
    if (message.sessionId !== sessionId) return;
    const { method, params } = message;
    if (method === "Page.loadEventFired") loaded();
    if (method === "Network.requestWillBeSent") requests.push(params.request.url);
    if (method === "Runtime.exceptionThrown") complaints.push(params.exceptionDetails.text);
    if (method === "Log.entryAdded" && params.entry.level === "error") complaints.push(params.entry.text);
  };
  browser.listeners.add(listener);
  for (const domain of ["Page", "Network", "Runtime", "Log", "DOM", "Accessibility"]) {
    await send(`${domain}.enable`);
  }
  const media = (type) =>
    send("Emulation.setEmulatedMedia", {
      media: type,
      features: [{ name: "prefers-color-scheme", value: dark ? "dark" : "light" }],
    });
  const resize = (to) =>
    send("Emulation.setDeviceMetricsOverride", {
      width: to,
      height: 1600,
      deviceScaleFactor: 1,
      mobile: false,
    });
  await media("");
  await resize(width);
  if (!scripts) await send("Emulation.setScriptExecutionDisabled", { value: true });
  const url = /^http:/.test(path) ? path : pathToFileURL(resolve(path)).href;
  await send("Page.navigate", { url });
  await load;
  const run = async (expression) => {
    const { result, exceptionDetails } = await send("Runtime.evaluate", {
      expression,
      returnByValue: true,
      awaitPromise: true,
    });
    if (exceptionDetails) throw new Error(exceptionDetails.exception?.description ?? exceptionDetails.text);
    return result.value;
  };
  await run("document.fonts.ready.then(() => true)");
  const close = async () => {
    browser.listeners.delete(listener);
    await browser.send("Target.closeTarget", { targetId });
  };
  return { send, run, resize, media, requests, complaints, close };
}

/** The page from `top` on, as PNG bytes. */
export async function picture(page, { width = 1100, top = 0, height = 1600 } = {}) {
  const whole = await page.run("document.scrollingElement.scrollHeight");
  const { data } = await page.send("Page.captureScreenshot", {
    captureBeyondViewport: true,
    clip: { x: 0, y: top, width, height: Math.min(height, whole - top), scale: 1 },
  });
  return Buffer.from(data, "base64");
}
