export { defaultRuleLimits, type RuleLimits } from "./rule-limits.js";
