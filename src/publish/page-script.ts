import { createHash } from "node:crypto";

/**
 * The script of a page, with the digest that its content policy lets through:
 * it lets a reader ask the pictures. No library, nothing turned into code,
 * nothing fetched. Without it the newest values stand under each title.
 */
export function pageScript(): { readonly text: string; readonly sha256Base64: string } {
  return {
    text: script,
    sha256Base64: createHash("sha256").update(script).digest("base64"),
  };
}

const script = `
for (const figure of document.querySelectorAll("figure[data-reading]")) {
  const { words, places } = JSON.parse(figure.querySelector("script").textContent);
  const line = figure.querySelector(".reading");
  const boxes = [...figure.querySelectorAll(".picture")];
  const rules = boxes.map((box) => {
    const svg = box.querySelector("svg");
    const rule = document.createElementNS("http://www.w3.org/2000/svg", "line");
    const { height } = svg.viewBox.baseVal;
    for (const [name, value] of Object.entries({ class: "asked", y1: 0, y2: height })) rule.setAttribute(name, value);
    svg.append(rule);
    return rule;
  });
  const last = words.length - 1;
  let at = last;
  const ask = (next) => {
    at = Math.max(0, Math.min(last, next));
    line.textContent = words[at];
    rules.forEach((rule, i) => {
      for (const name of ["x1", "x2"]) rule.setAttribute(name, places[i][at]);
      rule.classList.toggle("shown", true);
    });
  };
  const rest = () => {
    ask(last);
    for (const rule of rules) rule.classList.toggle("shown", false);
  };
  boxes.forEach((box, i) => {
    const point = (event) => {
      const svg = box.querySelector("svg");
      const frame = svg.getBoundingClientRect();
      const x = ((event.clientX - frame.left) * svg.viewBox.baseVal.width) / frame.width;
      let near = 0;
      for (const [n, place] of places[i].entries()) if (Math.abs(place - x) < Math.abs(places[i][near] - x)) near = n;
      if (near !== at || !rules[i].classList.contains("shown")) ask(near);
    };
    box.addEventListener("pointermove", point);
    box.addEventListener("pointerdown", point);
    box.addEventListener("pointerleave", () => box !== document.activeElement && rest());
    box.addEventListener("focus", () => ask(at));
    box.addEventListener("blur", rest);
    box.addEventListener("keydown", (event) => {
      const step = { ArrowLeft: -1, ArrowRight: 1, PageUp: -7, PageDown: 7, Home: -last, End: last }[event.key];
      if (step === undefined) return;
      event.preventDefault();
      ask(at + step);
    });
  });
}`;
