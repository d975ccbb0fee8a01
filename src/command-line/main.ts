#!/usr/bin/env node
import { leaveNothingWhenInterrupted } from "../records/files/when-interrupted.js";
import { keepWritingToNobody } from "./closed-output.js";
import { runCommand } from "./run-command.js";

keepWritingToNobody();
leaveNothingWhenInterrupted();
process.exitCode = await runCommand(process.argv.slice(2));
