import type { Sign } from "./sign.js";
import { signKindOf } from "./sign-table.js";

/**
 * A sign in our own words: what was read, and nothing else that was written. Read
 * again it gives the same sign, its questions apart.
 *
 * @example canonicalSign(readSign({ kind: "vomit", valueText: "threw up twice, Tor saw it", ... })).valueText // "2x"
 */
export function canonicalSign(sign: Sign): { valueText: string; unit: string | null } {
  const kind = signKindOf(sign.kind);
  const isState = kind.holds === "state";
  const beside = sign.findings.map((finding) => `, ${finding}`).join("");
  if (sign.state === "unclear") return { valueText: `unclear${beside}`, unit: null };
  if (sign.state === "not looked") return { valueText: `not looked${beside}`, unit: null };
  const { measure } = sign;
  if (measure !== null && kind.measuring !== undefined) {
    const { low, high } = measure;
    const [least, most] = kind.measuring.possible;
    const text =
      low === high
        ? `${low}${sign.sure ? "" : " ?"}`
        : sign.sure && low === least
          ? `<${high}`
          : sign.sure && high === most
            ? `>${low}`
            : `${low} / ${high}`;
    return { valueText: `${text}${beside}`, unit: measure.unit };
  }
  if (sign.state === "none")
    return { valueText: `${isState ? "fine" : "none"}${beside}`, unit: null };
  const amount = sign.amount === null ? "" : `, ${sign.amount.value} ${sign.amount.unit}`;
  const count = sign.count === null ? "" : `, ${sign.count}x`;
  const there = isState ? "" : ", yes";
  const doubt = sign.sure ? "" : ", ?";
  return { valueText: `${there}${count}${amount}${beside}${doubt}`.replace(/^, /, ""), unit: null };
}
