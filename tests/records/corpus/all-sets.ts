import { animalsAndDays } from "./animals-and-days.js";
import { cells } from "./cells.js";
import { laterCells } from "./later-cells.js";
import { laterLayouts } from "./later-layouts.js";
import { laterOrders } from "./later-orders.js";
import { laterSigns } from "./later-signs.js";
import { laterSlips } from "./later-slips.js";
import { layouts } from "./layouts.js";
import { orders } from "./orders.js";
import type { RecordSet } from "./record-set.js";
import { siblingCells } from "./sibling-cells.js";
import { siblingLayouts } from "./sibling-layouts.js";
import { siblingOrders } from "./sibling-orders.js";
import { siblingSigns } from "./sibling-signs.js";
import { siblingSlips } from "./sibling-slips.js";
import { signs } from "./signs.js";
import { slips } from "./slips.js";

/** Every record set, by what it is about. */
export const corpus: Readonly<Record<string, readonly RecordSet[]>> = {
  orders,
  signs,
  cells,
  "animals and days": animalsAndDays,
  slips,
  layouts,
  "sibling orders": siblingOrders,
  "sibling signs": siblingSigns,
  "sibling cells": siblingCells,
  "sibling slips": siblingSlips,
  "sibling layouts": siblingLayouts,
  "later orders": laterOrders,
  "later signs": laterSigns,
  "later cells": laterCells,
  "later slips": laterSlips,
  "later layouts": laterLayouts,
};
