export { decisionsTable } from "./decisions-table.js";
export { recordsTable } from "./records-table.js";
export { scaleChecksTable } from "./scale-checks-table.js";
export { setAsideTable } from "./set-aside-table.js";
export { slipsTable } from "./slips-table.js";
