#!/usr/bin/env node
import { CommanderError } from 'commander';
import { exitCodes } from './exit-codes.ts';
import { ignoreClosedOutput, printError } from './print.ts';
import { makeProgram } from './program.ts';

ignoreClosedOutput();
try {
  await makeProgram((code) => {
    process.exitCode = code;
  }).parseAsync();
} catch (error) {
  if (error instanceof CommanderError) {
    process.exitCode = error.exitCode === 0 ? exitCodes.fine : exitCodes.badInput;
  } else {
    printError(`internal error: ${error instanceof Error ? error.stack : String(error)}`);
    process.exitCode = exitCodes.internal;
  }
}
