// Rooms above this one reach records through it.
export { isDeath } from "../records/is-death.js";
