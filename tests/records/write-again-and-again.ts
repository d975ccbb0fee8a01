import { writeAtomically } from "../../src/records/files/write-atomically.js";

/** For a test that kills it: writes one file over and over, having said that it begins. */
const path = process.argv[2]!;
process.stdout.write("begun\n");
for (;;) await writeAtomically(path, "new ".repeat(2_000_000));
