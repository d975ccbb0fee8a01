export * from "./animal/index.js";
export * from "./day/index.js";
export * from "./feeding/index.js";
export * from "./husbandry/index.js";
export * from "./records/index.js";
export * from "./seasons/index.js";
export * from "./section/index.js";
