// Zooms into pictures of a page and follows their links as a reader does, with the pointer and by keys.
import { openPage } from "./browser.mjs";

/** What a picture shows: its line, the days under its plot, where its points lie. */
const look = (figure) =>
  `(() => { const f = ${figure}; const box = [...f.querySelectorAll('.picture')].find((each) => each.checkVisibility()); const svg = box.querySelector('svg'); const r = svg.getBoundingClientRect();` +
  "const seen = (e) => e.getAttribute('visibility') !== 'hidden';" +
  "return { said: f.querySelector('.reading').textContent, button: !f.querySelector('button.whole').hidden, left: r.left, top: r.top, width: r.width, height: r.height, size: r.width / svg.viewBox.baseVal.width," +
  "points: [...svg.querySelectorAll('.mark-symbol.role-mark path')].filter(seen).length," +
  "lines: [...svg.querySelectorAll('.mark-line.role-mark path')].map((p) => p.getAttribute('d')).join(' ').length," +
  "shape: [...svg.querySelectorAll('.mark-line.role-mark path, .mark-symbol.role-mark path')].map((p) => p.getAttribute('d') + p.getAttribute('transform') + p.getAttribute('visibility')).join(' ')," +
  "days: [...svg.querySelectorAll('.role-axis-label text')].filter(seen).map((t) => t.textContent).filter((t) => /[a-z]/.test(t)) }; })()";

export async function zoomed(browser, page, demand) {
  for (const width of [1100, 390]) {
    const opened = await openPage(browser, page, { width });
    await opened.run("document.querySelectorAll('details').forEach((each) => (each.open = true))");
    const figures = await opened.run("document.querySelectorAll('figure[data-reading]').length");
    demand(figures > 0, "there is no picture that can be zoomed");
    for (let n = 0; n < figures; n++) {
      const figure = `document.querySelectorAll('figure[data-reading]')[${n}]`;
      const name = `picture ${n + 1} at ${width}`;
      await opened.run(
        `[...${figure}.querySelectorAll('.picture')].find((each) => each.checkVisibility()).scrollIntoView({ block: 'center' })`,
      );
      const { words, places } = await opened.run(
        `(() => { const f = ${figure}; const d = JSON.parse(f.querySelector('script').textContent); const at = [...f.querySelectorAll('.picture')].findIndex((each) => each.checkVisibility()); return { words: d.words, places: d.places[at] }; })()`,
      );
      if (words.length < 12) continue;
      const shown = () => opened.run(look(figure));
      const mouse = (type, x, y, more = {}) =>
        opened.send("Input.dispatchMouseEvent", { type, x, y, button: "left", clickCount: 1, ...more });
      const key = (name) => opened.send("Input.dispatchKeyEvent", { type: "keyDown", key: name, code: name });
      const nameOf = (at) => words[at].slice(0, words[at].indexOf(": "));
      const before = await shown();
      demand(!before.button, `${name}: a button to show all stands there at rest`);
      // A drag over the second half of what is read off.
      const [from, to] = [Math.floor(words.length / 2), words.length - 2];
      const y = before.top + Math.min(before.height, 300) / 2;
      const x = (at) => before.left + places[at] * before.size;
      await mouse("mousePressed", x(from) - 1, y);
      await mouse("mouseMoved", (x(from) + x(to)) / 2, y, { buttons: 1 });
      await mouse("mouseMoved", x(to) + 1, y, { buttons: 1 });
      await mouse("mouseReleased", x(to) + 1, y);
      const near = await shown();
      demand(near.button, `${name}: no button to show all after a drag`);
      demand(/ shown\. /.test(near.said), `${name}: after a drag it says "${near.said}"`);
      // At 390 a day may be narrower than a pixel: the one before it may be shown too.
      demand([from, from - 1].some((at) => near.said.startsWith(nameOf(at))), `${name}: after a drag from ${nameOf(from)} it says "${near.said.slice(0, 60)}"`);
      demand(near.shape !== before.shape, `${name}: nothing moved`);
      demand(near.points < before.points || before.points === 0, `${name}: ${near.points} points of ${before.points} are shown`);
      // What is read under the pointer is still what is plotted there.
      const middle = Math.round((from + to) / 2);
      const place = await opened.run(
        `(() => { const box = [...${figure}.querySelectorAll('.picture')].find((each) => each.checkVisibility()); const r = box.querySelector('svg').getBoundingClientRect(); return [r.left, r.width]; })()`,
      );
      let read = new Set();
      for (let step = 0; step <= 40; step++) {
        await mouse("mouseMoved", place[0] + (place[1] * step) / 40, y, { button: "none" });
        read.add((await shown()).said);
      }
      read = [...read].filter((each) => !/ shown\. /.test(each));
      demand(read.includes(words[middle]) || read.length > 3, `${name}: zoomed, the pointer reads ${read.length} places`);
      demand(read.every((each) => words.indexOf(each) >= from - 1 && words.indexOf(each) <= to + 1), `${name}: zoomed, the pointer reads what is not shown`);
      // By keys: Escape shows all, plus half of it, minus all again; arrows go along.
      await opened.run(`[...${figure}.querySelectorAll('.picture')].find((each) => each.checkVisibility()).focus()`);
      await key("Escape");
      const all = await shown();
      demand(all.shape === before.shape, `${name}: Escape does not draw it as it was`);
      demand(/^All shown\. /.test(all.said) && !all.button, `${name}: Escape says "${all.said}"`);
      await key("End");
      await key("+");
      await key("+");
      const closer = await shown();
      demand(/ shown\. /.test(closer.said), `${name}: plus says "${closer.said}"`);
      demand(closer.days.length >= 2, `${name}: zoomed, the axis names ${closer.days.length} days`);
      await key("Home");
      const first = await shown();
      demand(first.said === words[0] && first.shape !== closer.shape, `${name}: the window does not go along to the first day`);
      await key("-");
      await key("-");
      await key("-");
      const whole = await shown();
      demand(whole.shape === before.shape, `${name}: minus does not end at all of it`);
      await key("+");
      await opened.run(`${figure}.querySelector('button.whole').click()`);
      demand((await shown()).shape === before.shape, `${name}: the button does not show all`);
      await opened.run("document.activeElement.blur()");
    }
    demand(opened.complaints.length === 0, opened.complaints.join("; "));
    console.log(`${figures} pictures zoomed at ${width}`);
    await opened.close();
  }
}

export async function leads(browser, page, demand) {
  const opened = await openPage(browser, page);
  await opened.run("document.querySelectorAll('details').forEach((each) => (each.open = true))");
  const all = await opened.run(
    "[...document.querySelectorAll('figure svg a')].filter((a) => a.checkVisibility()).map((a, i) => { a.id = 'lead-' + i; return { href: a.getAttribute('href'), name: a.getAttribute('aria-label') ?? '' }; })",
  );
  demand(all.length > 0, "no picture leads to an animal");
  for (const { href, name } of all) demand(/animals\/.+\.html$/.test(href) && name !== "", `${name || "a link without a name"} leads to ${href}`);
  const where = () => opened.run("location.pathname");
  const home = await where();
  const arrived = async (href, how) => {
    for (let wait = 0; wait < 50 && (await where().catch(() => home)) === home; wait++) await new Promise((done) => setTimeout(done, 100));
    await new Promise((done) => setTimeout(done, 200));
    const at = await where();
    demand(at.endsWith(href), `${how} leads to ${at} and not ${href}`);
    await opened.run("setTimeout(() => history.back(), 0); true").catch(() => {});
    for (let wait = 0; wait < 50 && (await where().catch(() => "")) !== home; wait++) await new Promise((done) => setTimeout(done, 100));
    await new Promise((done) => setTimeout(done, 300));
  };
  const [first] = all;
  if (first === undefined) return;
  const find = `[...document.querySelectorAll('figure svg a')].find((a) => a.getAttribute('href') === ${JSON.stringify(first.href)})`;
  const open = "document.querySelectorAll('details').forEach((each) => (each.open = true));";
  await opened.run(`${open} ${find}.focus()`);
  for (const type of ["keyDown", "keyUp"])
    await opened.send("Input.dispatchKeyEvent", { type, key: "Enter", code: "Enter", windowsVirtualKeyCode: 13, text: type === "keyDown" ? "\r" : undefined });
  await arrived(first.href, "Enter");
  const [x, y] = await opened.run(
    `(() => { ${open} const a = ${find}; a.scrollIntoView({ block: 'center' }); const r = a.getBoundingClientRect(); return [r.left + r.width / 2, r.top + r.height / 2]; })()`,
  );
  for (const type of ["mousePressed", "mouseReleased"])
    await opened.send("Input.dispatchMouseEvent", { type, x, y, button: "left", clickCount: 1 });
  await arrived(first.href, "a click");
  console.log(`${all.length} names and marks lead to animals`);
}
