import { z } from 'zod';
import { argv, pattern } from './command-fields.ts';
import { mapOf, plainText, text } from './fields.ts';
import type { WrittenProgram } from './written.ts';

// Debian Policy Manual 5.6.1. The name becomes part of a command that people copy into a terminal.
const packageError = 'the name of a Debian package, such as xz-utils';
const debianPackage = z
  .string({ error: packageError })
  .max(100, { error: packageError })
  .regex(/^[a-z0-9][a-z0-9+.-]+$/, { error: packageError })
  .meta(plainText);

const versionError = 'a version of numbers with dots between, such as `5.2`';
const version = z
  .string({ error: versionError })
  .max(100, { error: versionError })
  .regex(/^\d{1,9}(\.\d{1,9}){0,9}$/, { error: versionError })
  .meta(plainText);

const program = mapOf({
  version: mapOf({
    argv: argv.describe('Program and arguments that make it print its version.'),
    pattern: pattern.describe(
      'Regular expression (RE2 syntax); the first group of its first match is the version.',
    ),
  })
    .optional()
    .describe('How the program tells its version; left out, it does not.'),
  debian: debianPackage.optional().describe('Debian package that has the program.'),
  elsewhere: text('a sentence', 300).optional().describe('Where people on other systems get it.'),
  'at-least': version.optional().describe('Oldest version that will do.'),
});

const programsError = 'a map of at most 100 programs, by name as in `argv`';
const nameError = 'a program as `argv` names it';

/** What is known about the programs that workloads start. */
export const programsSchema: z.ZodType<Readonly<Record<string, WrittenProgram>>> = z
  .record(z.string().regex(/^[^\s{}][^\r\n{}]{0,1023}$/, { error: nameError }), program, {
    error: programsError,
  })
  .check((context) => {
    const count = Object.keys(context.value).length;
    if (count <= 100) return;
    const message = `${count} programs; expected ${programsError}`;
    context.issues.push({ code: 'custom', message, input: context.value });
  });
