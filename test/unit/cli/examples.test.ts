import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { makeProgram } from '../../../src/cli/program.ts';
import {
  allCommands,
  commandLines,
  helpOf,
  shellWords,
  understand,
} from '../../setup/command-lines.ts';

const commands = allCommands(makeProgram(() => {}));
const readme = readFileSync(fileURLToPath(new URL('../../../README.md', import.meta.url)), 'utf8');

/** Command lines of the code blocks of the README, but for the list that names arguments instead of giving them. */
function linesOfReadme(): readonly string[] {
  const blocks = [...readme.matchAll(/^```\w*\n(.*?)^```$/gms)].map(([, block = '']) => block);
  return blocks.flatMap(commandLines).filter((line) => !/[[<…]/.test(line));
}

describe('the examples', () => {
  it('are there in the help of every command that does something', () => {
    const without = commands.filter((command) => commandLines(helpOf(command)).length === 0);
    expect(without.map((command) => command.name())).toEqual([]);
  });

  it.each(
    commands.flatMap((command) => commandLines(helpOf(command)).map((line) => [line, command])),
  )('%s is understood', async (line, command) => {
    const named = await understand(shellWords(line as string));
    const owner = command as (typeof commands)[number];
    if (owner.parent !== null)
      expect([owner, ...owner.commands].map((c) => c.name())).toContain(named);
  });

  it('of the README are understood', async () => {
    const lines = linesOfReadme();
    expect(lines.length).toBeGreaterThan(20);
    for (const line of lines)
      await understand(shellWords(line)).catch((error: Error) => {
        throw new Error(`${line}: ${error.message}`, { cause: error });
      });
  });

  it.each([
    ['steadyrig rnu', /unknown command/],
    ['steadyrig run --rgi x', /unknown option/],
    ['steadyrig gate', /missing required argument/],
    ['steadyrig gate s.yaml --when-unsure guess', /Allowed choices/],
    ['steadyrig run --seed abc', /whole number/],
    ['steadyrig plan a b', /too many arguments/],
  ])('would be refused where wrong: %s', async (line, message) => {
    await expect(understand(shellWords(line))).rejects.toThrow(message);
  });
});
