#!/usr/bin/env node
import { keepWritingToNobody } from "./closed-output.js";
import { runCommand } from "./run-command.js";

keepWritingToNobody();
process.exitCode = await runCommand(process.argv.slice(2));
