export { readStudy } from "./read-study.js";
