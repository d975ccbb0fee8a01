import { readFileSync } from "node:fs";
import { fontFile } from "../charts/render-png.js";

/** Style rules that carry the shipped font inside a page, so that it looks alike everywhere, offline too. */
export function pageFont(): string {
  return [face("Inter-Regular.woff2", "400"), face("Inter-SemiBold.woff2", "600 700")].join("");
}

function face(file: string, weight: string): string {
  const data = readFileSync(fontFile(file)).toString("base64");
  return `@font-face{font-family:Inter;font-style:normal;font-weight:${weight};src:url(data:font/woff2;base64,${data}) format("woff2")}`;
}
