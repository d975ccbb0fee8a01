// Prints "passed failed" from the JSON report of the tests and their exit code.
import { readFileSync } from "node:fs";

const [path, code] = process.argv.slice(2);
let passed = 0;
let failed = 0;
try {
  const report = JSON.parse(readFileSync(path, "utf8"));
  passed = report.numPassedTests;
  failed = report.numFailedTests;
  // A test file that could not be read holds no failed test, yet it failed.
  failed += report.testResults.filter(
    (file) => file.status === "failed" && !file.assertionResults.some((each) => each.status === "failed"),
  ).length;
} catch {
  failed = 1;
}
// The tests may also fail as a whole, for example when the build before them does.
if (code !== "0" && failed === 0) failed = 1;
console.log(`${passed} ${failed}`);
