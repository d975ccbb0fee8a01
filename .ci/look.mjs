// Looks at pages as a reader does, one named question a call; prints what is wrong and fails.
//   picture PAGE OUT.png [dark] [no-scripts] [at-chart]   2,400 pixels, not blank, in the colours asked for
//   fits PAGE...                               no sideways scrolling at 1100, 768 and 390 pixels; asks for nothing
//   tree PAGE...                               everything to press or see has a name; headings in order
//   keys PAGE                                  Tab reaches every link and button, each with a visible focus
//   asked PAGE                                 pointer and keys read the values of every picture that has a line for them
//   zoomed PAGE                                a drag, plus, minus, Escape and the button show some days and all again, and say so
//   leads PAGE                                 Tab and Enter, and a click, on an animal in a picture open that animal's page
//   finds PAGE                                 the search of the documentation answers to typed words, and Tab and Enter follow
//   charts PAGE...                             every picture at 1100 and 390 pixels, light and dark: nothing past the edge,
//                                              letters of 11 px and more, colours of the page
//   axe PAGE...                                axe-core (Deque, MPL-2.0) finds no violation, light and dark, folds open;
//                                              AXE_CORE names its axe.min.js
//   sheets PAGE MOST                           on A4 as its own style says, at most so many sheets
//   paper PAGE OUT.pdf A4|Letter               sheets of that size, nothing wider than the paper
import { spawnSync } from "node:child_process";
import { existsSync, readFileSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { leads, zoomed } from "./ask-pictures.mjs";
import { openPage, picture, withBrowser } from "./browser.mjs";

const [what, page, ...rest] = process.argv.slice(2);
const wrong = [];
const demand = (holds, words) => {
  if (!holds) wrong.push(words);
};

const questions = {
  async picture(browser) {
    const [out, ...how] = rest;
    const dark = how.includes("dark");
    const opened = await openPage(browser, page, { dark, scripts: !how.includes("no-scripts") });
    const figure = "document.querySelector('figure')";
    const top = how.includes("at-chart") ? await opened.run(`${figure}.getBoundingClientRect().top - 60`) : 0;
    writeFileSync(out, await picture(opened, { top, height: 2400 }));
    const buttons = await opened.run("document.querySelectorAll('figure button').length");
    demand(!how.includes("no-scripts") || buttons === 0, "a script ran");
    const paper = await opened.run("getComputedStyle(document.body).backgroundColor");
    const [red] = paper.match(/\d+/g).map(Number);
    demand(dark ? red < 80 : red > 200, `the ${dark ? "dark" : "light"} page has the background ${paper}`);
    const pictures = await opened.run("document.querySelectorAll('figure svg').length");
    const figures = await opened.run("document.querySelectorAll('figure').length");
    demand(pictures >= figures, `${figures} figures, but ${pictures} static pictures`);
    const file = join(dirname(fileURLToPath(import.meta.url)), "not-blank.mjs");
    const looked = spawnSync(process.execPath, [file, out], { encoding: "utf8" });
    demand(looked.status === 0, looked.stderr);
  },

  async fits(browser) {
    for (const path of [page, ...rest]) {
      const opened = await openPage(browser, path);
      for (const width of [1100, 768, 390]) {
        await opened.resize(width);
        const [is, may] = await opened.run(
          "[document.scrollingElement.scrollWidth, document.scrollingElement.clientWidth]",
        );
        demand(is <= may, `${path} is ${is} pixels wide on a screen of ${may}`);
      }
      const asked = opened.requests.filter((url) => !/^(file|data):/.test(url));
      demand(asked.length === 0, `${path} asks for ${asked.join(", ")}`);
      const files = opened.requests.filter((url) => url.startsWith("file:"));
      demand(files.length === 1, `${path} reads ${files.length} files`);
      demand(opened.complaints.length === 0, `${path}: ${opened.complaints.join("; ")}`);
      await opened.close();
    }
  },

  async tree(browser) {
    const named = new Set(["button", "link", "image", "graphics-document", "region", "table", "navigation"]);
    for (const path of [page, ...rest]) {
      const opened = await openPage(browser, path);
      await opened.run("document.querySelectorAll('details').forEach((each) => (each.open = true))");
      const { nodes } = await opened.send("Accessibility.getFullAXTree");
      const seen = nodes.filter((node) => !node.ignored);
      const roles = seen.map((node) => ({ role: node.role?.value, name: node.name?.value ?? "" }));
      demand(roles.length > 20, `${path}: the tree has ${roles.length} nodes`);
      for (const { role, name } of roles) {
        if (named.has(role)) demand(name.trim() !== "", `${path}: a ${role} without a name`);
      }
      demand(roles.some(({ role }) => role === "main"), `${path} has no main part`);
      const levels = seen
        .filter((node) => node.role?.value === "heading")
        .map((node) => node.properties.find((each) => each.name === "level").value.value);
      demand(levels[0] === 1, `${path} begins with a heading of level ${levels[0]}`);
      demand(levels.filter((level) => level === 1).length === 1, `${path} has not one first heading`);
      levels.forEach((level, at) =>
        demand(at === 0 || level <= levels[at - 1] + 1, `${path}: heading ${at + 1} skips a level`),
      );
      await opened.close();
    }
  },

  async keys(browser) {
    const opened = await openPage(browser, page);
    const wanted = await opened.run(
      "[...document.querySelectorAll('a[href], button, summary, [tabindex=\"0\"]')]" +
        ".filter((each) => each.checkVisibility()).map((each, at) => (each.dataset.at = at)).length",
    );
    const reached = new Set();
    for (let press = 0; press < wanted + 50 && reached.size < wanted; press++) {
      for (const type of ["keyDown", "keyUp"]) {
        await opened.send("Input.dispatchKeyEvent", { type, key: "Tab", code: "Tab", windowsVirtualKeyCode: 9 });
      }
      const [at, outline, left] = await opened.run(
        "(() => { const e = document.activeElement; const s = getComputedStyle(e);" +
          "return [e.dataset.at ?? null, s.outlineStyle === 'none' ? 0 : parseFloat(s.outlineWidth), e.getBoundingClientRect().left]; })()",
      );
      if (at === null) continue;
      reached.add(at);
      demand(outline >= 2, `the focus of thing ${at} is not visible`);
      demand(left > -100, `thing ${at} stays off the screen when it has the focus`);
    }
    console.log(`${reached.size} things reached`);
    demand(reached.size === wanted, `Tab reaches ${reached.size} of ${wanted}`);
  },

  async asked(browser) {
    const opened = await openPage(browser, page);
    const figures = await opened.run("document.querySelectorAll('figure[data-reading]').length");
    demand(figures > 0, "there is no picture that can be asked");
    for (let n = 0; n < figures; n++) {
      const figure = `document.querySelectorAll('figure[data-reading]')[${n}]`;
      await opened.run(`for (let e = ${figure}; e; e = e.parentElement) if (e.tagName === 'DETAILS') e.open = true`);
      const said = () => opened.run(`${figure}.querySelector('.reading').textContent`);
      const { words, places, left, top, size } = await opened.run(
        `(() => { const f = ${figure}; const box = [...f.querySelectorAll('.picture')].find((each) => each.checkVisibility());` +
          "box.scrollIntoView({ block: 'center' }); box.id = 'asked-' + Math.random().toString(36).slice(2);" +
          "const svg = box.querySelector('svg'); const r = svg.getBoundingClientRect(); const d = JSON.parse(f.querySelector('script').textContent);" +
          "return { words: d.words, places: d.places[0], left: r.left, top: r.top + r.height / 2, size: r.width / svg.viewBox.baseVal.width }; })()",
      );
      const last = words.length - 1;
      demand((await said()) === words[last], `picture ${n + 1} at rest says "${await said()}"`);
      for (const at of new Set([0, Math.floor(last / 2), last])) {
        // Places nearer than a pixel cannot be told apart by pointing.
        const near = places.filter((place) => Math.abs(place - places[at]) * size < 1).length;
        const x = left + places[at] * size;
        await opened.send("Input.dispatchMouseEvent", { type: "mouseMoved", x, y: top });
        const answer = await said();
        demand(near > 1 || answer === words[at], `picture ${n + 1}, place ${at}: "${answer}" and not "${words[at]}"`);
        const rule = await opened.run(
          `(() => { const l = [...${figure}.querySelectorAll('.asked')].find((each) => each.checkVisibility()); return [Number(l.getAttribute('x1')), getComputedStyle(l).stroke]; })()`,
        );
        demand(near > 1 || rule[0] === places[at], `picture ${n + 1}: the line stands at ${rule[0]}`);
        demand(rule[1] !== "none", `picture ${n + 1}: no line is seen`);
      }
      await opened.send("Input.dispatchMouseEvent", { type: "mouseMoved", x: 2, y: 2 });
      demand((await said()) === words[last], `picture ${n + 1} does not go back to its newest values`);
      await opened.run(`[...${figure}.querySelectorAll('.picture')].find((each) => each.checkVisibility()).focus()`);
      const press = (key) => opened.send("Input.dispatchKeyEvent", { type: "keyDown", key, code: key });
      for (const [key, at] of [["ArrowLeft", last - 1], ["Home", 0], ["ArrowLeft", 0], ["ArrowRight", Math.min(1, last)], ["End", last], ["PageUp", Math.max(0, last - 7)]]) {
        await press(key);
        demand((await said()) === words[at], `picture ${n + 1}: ${key} says "${await said()}"`);
      }
      const live = await opened.run(`${figure}.querySelector('.reading').getAttribute('aria-live')`);
      demand(live === "polite", `picture ${n + 1}: its line is not announced`);
      await opened.run("document.activeElement.blur()");
    }
    demand(opened.complaints.length === 0, opened.complaints.join("; "));
    console.log(`${figures} pictures asked`);
  },

  async finds(browser) {
    const opened = await openPage(browser, page);
    const type = (text) => opened.send("Input.insertText", { text });
    const press = async (key, windowsVirtualKeyCode) => {
      for (const kind of ["keyDown", "keyUp"])
        await opened.send("Input.dispatchKeyEvent", { type: kind, key, code: key, windowsVirtualKeyCode, text: key === "Enter" && kind === "keyDown" ? "\r" : undefined });
    };
    const list = () => opened.run("[...document.querySelectorAll('#found a')].map((a) => a.textContent)");
    const said = () => opened.run("document.getElementById('said').textContent");
    demand((await opened.run("document.activeElement.id")) === "words", "the search does not take the focus");
    await type("tare_g");
    demand((await list()).length > 0, "tare_g is not found");
    demand(/passage/.test(await said()), `it says "${await said()}"`);
    await opened.run("document.getElementById('words').value = ''");
    await type("zzqqx");
    demand((await list()).length === 0 && /Nothing/.test(await said()), "nonsense is found");
    await opened.run("document.getElementById('words').value = ''");
    await type("false flag");
    const [first] = await list();
    demand(/false flag/i.test(first ?? ""), `first for "false flag" stands "${first}"`);
    await press("Tab", 9);
    demand((await opened.run("document.activeElement.textContent")) === first, "Tab does not reach the first answer");
    await press("Enter", 13);
    for (let n = 0; n < 50 && /search\.html/.test(await opened.run("location.href")); n++)
      await new Promise((done) => setTimeout(done, 100));
    demand(!/search\.html/.test(await opened.run("location.href")), "Enter does not lead to the answer");
  },

  zoomed: (browser) => zoomed(browser, page, demand),
  leads: (browser) => leads(browser, page, demand),

  async charts(browser) {
    let looked = 0;
    for (const path of [page, ...rest]) {
      for (const [width, dark] of [[1100, false], [1100, true], [390, false], [390, true]]) {
        const opened = await openPage(browser, path, { dark, width });
        await opened.run("document.querySelectorAll('details').forEach((each) => (each.open = true))");
        const found = await opened.run(
          "(() => { const ink = getComputedStyle(document.body).color; const seen = document.documentElement.clientWidth; const wrong = []; let n = 0;" +
            "for (const svg of document.querySelectorAll('figure svg')) { if (!svg.checkVisibility()) continue; n++;" +
            "const name = svg.getAttribute('aria-label').slice(0, 60); const frame = svg.getBoundingClientRect();" +
            "if (frame.right > seen + 0.5) wrong.push(name + ': ends at ' + frame.right);" +
            "let words = 0; for (const text of svg.querySelectorAll('text')) { if (text.textContent.trim() === '') continue; words++; const r = text.getBoundingClientRect();" +
            "if (r.right > seen + 0.5 || r.left < -0.5) wrong.push(name + ': \"' + text.textContent + '\" from ' + r.left + ' to ' + r.right);" +
            "if (parseFloat(getComputedStyle(text).fontSize) * frame.width / svg.viewBox.baseVal.width < 10.9) wrong.push(name + ': small letters'); }" +
            "if (words === 0) wrong.push(name + ': no words');" +
            "if (![...svg.querySelectorAll('text')].some((text) => getComputedStyle(text).fill === ink)) wrong.push(name + ': not in the ink of the page');" +
            "} return { n, wrong }; })()",
        );
        looked += found.n;
        for (const each of found.wrong.slice(0, 5)) demand(false, `${path} at ${width}${dark ? ", dark" : ""}: ${each}`);
        await opened.close();
      }
    }
    demand(looked > 0, "no picture was looked at");
    console.log(`${looked} pictures looked at`);
  },

  async axe(browser) {
    const axe = readFileSync(process.env.AXE_CORE, "utf8");
    for (const path of [page, ...rest]) {
      for (const dark of [false, true]) {
        const opened = await openPage(browser, path, { dark });
        await opened.run("document.querySelectorAll('details').forEach((each) => (each.open = true))");
        await opened.run(`${axe}; true`);
        const found = await opened.run(
          "axe.run(document, { resultTypes: ['violations'] }).then(({ violations }) => violations.map((v) => v.id + ': ' + v.nodes.slice(0, 3).map((n) => n.target.join(' ') + ' ' + (n.any[0]?.message ?? '')).join(' | ')))",
        );
        for (const each of found) demand(false, `${path}${dark ? ", dark" : ""}: ${each}`);
        await opened.close();
      }
    }
  },

  async sheets(browser) {
    const [most] = rest;
    const opened = await openPage(browser, page);
    const { data } = await opened.send("Page.printToPDF", { preferCSSPageSize: true });
    const boxes = Buffer.from(data, "base64").toString("latin1").match(/\/MediaBox\s*\[/g) ?? [];
    demand(boxes.length > 0 && boxes.length <= Number(most), `${page} takes ${boxes.length} sheets, at most ${most} were wanted`);
    console.log(`${boxes.length} sheets`);
  },

  async paper(browser) {
    const [out, size] = rest;
    const inches = { A4: [210 / 25.4, 297 / 25.4], Letter: [8.5, 11] }[size];
    const opened = await openPage(browser, page, { dark: true });
    const { data } = await opened.send("Page.printToPDF", {
      paperWidth: inches[0],
      paperHeight: inches[1],
    });
    const pdf = Buffer.from(data, "base64");
    writeFileSync(out, pdf);
    const boxes = [...pdf.toString("latin1").matchAll(/\/MediaBox\s*\[0 0 ([\d.]+) ([\d.]+)\]/g)];
    demand(boxes.length > 0, "the PDF names no sheet size");
    for (const [, width, height] of boxes) {
      const right = Math.abs(width - inches[0] * 72) < 1.5 && Math.abs(height - inches[1] * 72) < 1.5;
      demand(right, `a sheet of ${width} x ${height} points is not ${size}`);
    }
    // The paper's width less the two margins of the style.
    await opened.media("print");
    await opened.resize(Math.floor((inches[0] - 28 / 25.4) * 96));
    const [is, may] = await opened.run(
      "[document.scrollingElement.scrollWidth, document.scrollingElement.clientWidth]",
    );
    demand(is <= may, `the page needs ${is} pixels, ${size} has ${may}`);
    const ink = await opened.run("getComputedStyle(document.body).color");
    // The light ground's ink, whatever the screen's.
    demand(ink === "rgb(20, 32, 42)", `the words on paper are ${ink}`);
    console.log(`${boxes.length} sheets`);
  },
};

await withBrowser(async (browser) => {
  for (const path of [page, ...rest.filter((each) => each.endsWith(".html"))]) {
    if (!existsSync(path)) wrong.push(`${path} is not there`);
  }
  if (wrong.length === 0) await questions[what](browser);
});
for (const words of wrong) console.error(words);
if (wrong.length > 0) process.exitCode = 1;
