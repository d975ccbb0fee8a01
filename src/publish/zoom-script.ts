/**
 * A drawn picture some of whose days can be shown alone: what lies along the
 * bottom is moved and stretched in place, letters and points keep their size, and
 * marks of the axis are made from what is read off. `show([0.5, 1])` shows the
 * right half of the plot, `show([0, 1])` all of it. Shares are those of the first
 * drawing of a picture: another of its drawings, whose axis may reach further, is handed it.
 */
export const zoomScript = `
let clips = 0;
function zoomable(svg, places, words, first = null) {
  const frame = svg.getBoundingClientRect();
  const panels = [...svg.querySelectorAll("path.background")].map((path) => {
    const size = /^M0,0h([0-9.]+)v([0-9.]+)/.exec(path.getAttribute("d"));
    return { group: path.parentElement, width: Number(size?.[1] ?? 0), height: Number(size?.[2] ?? 0) };
  }).filter((each) => each.width > 40 && each.height > 1);
  const leftOf = (group) => {
    let x = 0;
    for (let each = group; each !== svg; each = each.parentElement) x += shift(each)?.[0] ?? 0;
    return x;
  };
  const width = Math.max(0, ...panels.map((each) => each.width));
  const left = panels.length === 0 ? 0 : leftOf(panels[0].group);
  let [from, to] = [0, 1];
  const share = (n) => (places[n] - left) / width;
  const last = places.length - 1;
  const edges = [0, last].map((n) => (first === null ? share(n) : first.shareOf(n)));
  const alike = first === null || !(edges[1] > edges[0]);
  const rate = alike ? 1 : (share(last) - share(0)) / (edges[1] - edges[0]);
  const own = (shared) => (alike ? shared : share(0) + (shared - edges[0]) * rate);
  const shared = (of) => (alike ? of : edges[0] + (of - share(0)) / rate);
  const moved = (x) => (x - from * width) / (to - from);
  const kept = new Map();
  const keep = (element, name) => {
    const known = kept.get(element) ?? {};
    if (!(name in known)) known[name] = element.getAttribute(name);
    kept.set(element, known);
    return known[name];
  };
  const parts = panels.flatMap((panel) => {
    const marks = [...panel.group.querySelectorAll(".role-mark")];
    return marks.filter((mark) => mark.closest(".role-axis, .role-legend, .role-title") === null).map((mark) => ({ mark, panel }));
  });
  const made = [];
  const place = (element) => {
    const at = shift(element, keep(element, "transform"));
    if (at === null) return;
    const [x, y, rest] = at;
    // Beside the plot: it stays where it is.
    if (x > width + 0.5) return;
    const to = moved(x);
    element.setAttribute("transform", "translate(" + to + "," + y + ")" + rest);
    const far = element.getAttribute("x2");
    const reach = far === null ? 0 : Number(keep(element, "x2")) / (toShare() || 1);
    if (far !== null) element.setAttribute("x2", reach);
    const ends = [to, to + reach];
    keep(element, "visibility");
    const out = Math.max(...ends) < -0.5 || Math.min(...ends) > width + 0.5;
    if (out) element.setAttribute("visibility", "hidden");
    else restore(element, "visibility");
  };
  const toShare = () => to - from;
  const restore = (element, name) => {
    const value = kept.get(element)?.[name] ?? null;
    if (value === null) element.removeAttribute(name);
    else element.setAttribute(name, value);
  };
  const stretch = (path) => {
    const d = keep(path, "d") ?? "";
    path.setAttribute("d", d.replace(/([MLHhC])([^A-Za-z]*)/g, (whole, letter, numbers) => {
      const each = numbers.match(/-?[0-9.]+(?:e-?[0-9]+)?/g)?.map(Number) ?? [];
      if (letter === "h") return "h" + each.map((x) => (Math.abs(x) < 4 ? x : x / toShare())).join(" ");
      if (letter === "H") return "H" + each.map(moved).join(" ");
      return letter + each.map((x, i) => (i % 2 === 0 ? moved(x) : x)).join(",");
    }));
  };
  const clip = (mark, panel) => {
    if (mark.closest("[clip-path]") !== null) return;
    const id = "zoomed-" + clips++;
    const outer = document.createElementNS("http://www.w3.org/2000/svg", "clipPath");
    outer.id = id;
    const inner = document.createElementNS("http://www.w3.org/2000/svg", "rect");
    for (const [name, value] of Object.entries({ x: 0, y: -2, width: panel.width, height: panel.height + 4 })) inner.setAttribute(name, value);
    outer.append(inner);
    svg.append(outer);
    made.push(outer);
    keep(mark, "clip-path");
    mark.setAttribute("clip-path", "url(#" + id + ")");
  };
  const axes = () => {
    for (const { group, height } of panels) {
      for (const axis of group.querySelectorAll(".role-axis > g")) {
        if ((shift(axis)?.[1] ?? 0) < height - 1) continue;
        for (const line of axis.querySelectorAll(".role-axis-grid > *, .role-axis-tick > *, .role-axis-label > *")) {
          keep(line, "visibility");
          line.setAttribute("visibility", "hidden");
        }
        const labels = axis.querySelector(".role-axis-label");
        const first = labels?.querySelector("text") ?? null;
        if (first === null) continue;
        const inside = places.map((_, n) => n).filter((n) => view.inside(n));
        const step = Math.max(1, Math.ceil(inside.length / Math.max(2, Math.floor(width / 90))));
        const y = shift(first, keep(first, "transform"))?.[1] ?? 0;
        for (let n = inside.length - 1; n >= 0; n -= step) {
          const label = first.cloneNode();
          label.textContent = words[inside[n]].slice(0, words[inside[n]].indexOf(": "));
          label.setAttribute("transform", "translate(" + moved(places[inside[n]] - left) + "," + y + ")");
          label.removeAttribute("visibility");
          labels.append(label);
          made.push(label);
        }
      }
    }
  };
  const reset = () => {
    for (const [element, known] of kept) for (const name of Object.keys(known)) restore(element, name);
    for (const each of made.splice(0)) each.remove();
  };
  const view = {
    shareOf: share,
    placeOf: (n) => left + moved(places[n] - left),
    shareAt: (x) => shared(from + ((x - left) / width) * toShare()),
    inside: (n) => moved(places[n] - left) >= -0.5 && moved(places[n] - left) <= width + 0.5,
    nearest: (x) => {
      let near = null;
      for (const n of places.keys()) {
        if (!view.inside(n)) continue;
        if (near === null || Math.abs(view.placeOf(n) - x) < Math.abs(view.placeOf(near) - x)) near = n;
      }
      return near;
    },
    show: (range) => {
      reset();
      const whole = range[1] - range[0] >= 1;
      [from, to] = whole ? [0, 1] : range.map(own);
      if (whole) return;
      for (const { mark, panel } of parts) {
        const kind = mark.getAttribute("class");
        if (/mark-(line|area|rect|trail)/.test(kind)) {
          for (const path of mark.querySelectorAll("path")) stretch(path);
          clip(mark, panel);
        } else for (const item of mark.querySelectorAll("path[transform], line[transform], text[transform]")) place(item);
      }
      axes();
    },
  };
  return view;
}
function shift(element, text = element.getAttribute("transform")) {
  const found = /^translate\\((-?[0-9.e-]+)[, ]+(-?[0-9.e-]+)\\)(.*)$/.exec(text ?? "");
  return found === null ? null : [Number(found[1]), Number(found[2]), found[3]];
}`;
