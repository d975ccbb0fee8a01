import { createHash } from "node:crypto";
import { zoomScript } from "./zoom-script.js";

/**
 * The script of a page, with the digest that its content policy lets through: it
 * lets a reader ask the pictures and look at some days of them alone. No library,
 * nothing turned into code, nothing fetched. Without it the newest values stand
 * under each title.
 */
export function pageScript(): { readonly text: string; readonly sha256Base64: string } {
  return {
    text: script,
    sha256Base64: createHash("sha256").update(script).digest("base64"),
  };
}

const askScript = `
for (const figure of document.querySelectorAll("figure[data-reading]")) {
  const { words, places } = JSON.parse(figure.querySelector("script").textContent);
  const line = figure.querySelector(".reading");
  const boxes = [...figure.querySelectorAll(".picture")];
  const svgOf = (box) => box.querySelector("svg");
  const make = (svg, name, attributes) => {
    const made = document.createElementNS("http://www.w3.org/2000/svg", name);
    for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, value);
    svg.append(made);
    return made;
  };
  const views = [];
  for (const [i, box] of boxes.entries()) views.push(zoomable(svgOf(box), places[i], words, views[0] ?? null));
  const rules = boxes.map((box) => make(svgOf(box), "line", { class: "asked", y1: 0, y2: svgOf(box).viewBox.baseVal.height }));
  const drawn = boxes.map((box) => make(svgOf(box), "rect", { class: "drawn", y: 0, width: 0, height: svgOf(box).viewBox.baseVal.height }));
  const last = words.length - 1;
  let at = last;
  let shown = [0, 1];
  const ask = (next) => {
    at = Math.max(0, Math.min(last, next));
    const place = views[0].shareOf(at);
    const [from, to] = shown;
    // Read beyond what is shown: the window goes along.
    if (place < from - 1e-9) zoom([place, place + to - from], "");
    else if (place > to + 1e-9) zoom([place - (to - from), place], "");
    line.textContent = words[at];
    rules.forEach((rule, i) => {
      for (const name of ["x1", "x2"]) rule.setAttribute(name, views[i].placeOf(at));
      rule.classList.toggle("shown", true);
    });
  };
  const rest = () => {
    if (shown[0] > 0 || shown[1] < 1) {
      for (const rule of rules) rule.classList.toggle("shown", false);
      return;
    }
    ask(last);
    for (const rule of rules) rule.classList.toggle("shown", false);
  };
  const all = document.createElement("button");
  all.type = "button";
  all.className = "whole screen-only";
  all.textContent = "Show all";
  all.hidden = true;
  line.after(all);
  const nameOf = (n) => words[n].slice(0, words[n].indexOf(": "));
  const zoom = (range, said) => {
    const size = Math.min(1, range[1] - range[0]);
    const from = Math.max(0, Math.min(1 - size, range[0]));
    shown = [from, from + size];
    for (const view of views) view.show(shown);
    const whole = size >= 1;
    all.hidden = whole;
    figure.toggleAttribute("data-zoomed", !whole);
    if (said === "") return;
    const inside = words.map((_, n) => n).filter((n) => views[0].inside(n));
    if (!inside.includes(at) && inside.length > 0) at = inside.at(-1);
    ask(at);
    const ends = inside.length === 0 ? "" : nameOf(inside[0]) + " to " + nameOf(inside.at(-1)) + " shown. ";
    line.textContent = (whole ? "All shown. " : ends) + words[at];
  };
  /** Fewer than three readings are no picture. */
  const least = Math.min(1, 3 / words.length);
  const enlarge = (factor) => {
    const size = Math.max(least, (shown[1] - shown[0]) * factor);
    const middle = views[0].shareOf(at);
    zoom(size >= 1 ? [0, 1] : [middle - size / 2, middle + size / 2], "said");
  };
  all.addEventListener("click", () => zoom([0, 1], "said"));
  boxes.forEach((box, i) => {
    let begun = null;
    const at0 = (event) => {
      const svg = svgOf(box);
      const frame = svg.getBoundingClientRect();
      return ((event.clientX - frame.left) * svg.viewBox.baseVal.width) / frame.width;
    };
    const point = (event) => {
      const x = at0(event);
      if (begun !== null && Math.abs(x - begun) > 6) {
        if (!box.hasPointerCapture(event.pointerId)) box.setPointerCapture(event.pointerId);
        drawn[i].setAttribute("x", Math.min(begun, x));
        drawn[i].setAttribute("width", Math.abs(x - begun));
      }
      const near = views[i].nearest(x);
      if (near !== null && (near !== at || !rules[i].classList.contains("shown"))) ask(near);
    };
    box.addEventListener("pointermove", point);
    box.addEventListener("pointerdown", (event) => {
      if (event.button === 0) begun = at0(event);
      point(event);
    });
    const end = (event) => {
      const width = Number(drawn[i].getAttribute("width"));
      drawn[i].setAttribute("width", 0);
      if (begun !== null && width > 6 && event.type === "pointerup") {
        const x = Number(drawn[i].getAttribute("x"));
        const range = [views[i].shareAt(x), views[i].shareAt(x + width)];
        const size = Math.max(least, range[1] - range[0]);
        const middle = (range[0] + range[1]) / 2;
        zoom([middle - size / 2, middle + size / 2], "said");
      }
      begun = null;
    };
    box.addEventListener("pointerup", end);
    box.addEventListener("pointercancel", end);
    box.addEventListener("dragstart", (event) => event.preventDefault());
    box.addEventListener("pointerleave", () => box !== document.activeElement && rest());
    box.addEventListener("focus", () => ask(at));
    box.addEventListener("blur", rest);
    box.addEventListener("keydown", (event) => {
      if (event.ctrlKey || event.metaKey || event.altKey || event.target !== box) return;
      const step = { ArrowLeft: -1, ArrowRight: 1, PageUp: -7, PageDown: 7, Home: -last, End: last }[event.key];
      const factor = { "+": 0.5, "=": 0.5, "-": 2 }[event.key];
      if (step !== undefined) ask(at + step);
      else if (factor !== undefined) enlarge(factor);
      else if (event.key === "Escape" || event.key === "0") zoom([0, 1], "said");
      else return;
      event.preventDefault();
    });
  });
}`;

const script = `${zoomScript}${askScript}`;
