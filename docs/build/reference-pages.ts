import { fileURLToPath } from "node:url";
import { galleryPage } from "./gallery.js";
import type { DocPage } from "./page.js";
import { apiPages } from "./reference/api-pages.js";
import { columnsPage } from "./reference/columns-page.js";
import { commandsPage } from "./reference/commands-page.js";
import { curvesPage } from "./reference/curves-page.js";
import { limitsPage } from "./reference/limits-page.js";
import { noticesPage } from "./reference/notices-page.js";
import { speciesPage } from "./reference/species-page.js";
import { spellingsPage } from "./reference/spellings-page.js";
import { agreementReport } from "./validation/agreement-text.js";
import { validationPage } from "./validation/validation-page.js";

/** The pages made from what the library itself uses; or the project holds; nothing of them is written twice. */
export function referencePages(): DocPage[] {
  return [
    columnsPage(),
    spellingsPage(),
    noticesPage(),
    limitsPage(),
    speciesPage(),
    curvesPage(),
    commandsPage(),
    ...apiPages(),
    validationPage(),
    { name: "checked-against", markdown: agreementReport().markdown },
    galleryPage(fileURLToPath(new URL("../../notebooks", import.meta.url))),
  ];
}
