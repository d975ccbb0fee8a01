import { noticeText } from "../../core/catalogue.js";
import type { AnimalShift } from "../../planning/plan-shift.js";
import { screenWording } from "../../units/format.js";

/** What is dangerous in an animal's orders, or must be asked about before they are followed. */
export function graveOrders(plan: AnimalShift | null, zone: string): string[] {
  const wording = screenWording(zone);
  return (plan?.order.said ?? [])
    .filter((n) => n.level !== "info")
    .map((n) => noticeText(n, wording));
}
