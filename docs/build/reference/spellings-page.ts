import { acceptedSpellings } from "../../../src/records/accepted-spellings.js";
import { orderSpellings } from "../../../src/records/order-words.js";
import { signSpellings } from "../../../src/series/signs/sign-spellings.js";
import { asIs, code, type DocPage, mdTable } from "../page.js";

/** What may be written in cells, orders and observations, from the lists of their readers. */
export function spellingsPage(): DocPage {
  const heads = ["where", "written", "read as"];
  const words = (written: readonly string[]) => written.map(code).join(" ");
  const cells = acceptedSpellings().map((s) => [asIs(s.where), words(s.written), asIs(s.readAs)]);
  const orders = orderSpellings().map((s) => [code(s.column), asIs(s.written), asIs(s.readAs)]);
  const signs = signSpellings().map((s) => [asIs(s.where), words(s.written), asIs(s.readAs)]);
  return {
    name: "spellings",
    markdown: `# Accepted spellings

Beside plain numbers, dates and words these are understood, in small and capital letters alike. What is not understood is never guessed: it is lost with a notice, or its row is set aside, and the page says where.

## In cells

${mdTable(heads, cells)}

## In orders

${mdTable(["column", "written", "read as"], orders)}

## In observations

${mdTable(["kind", "written", "read as"], signs)}`,
  };
}
