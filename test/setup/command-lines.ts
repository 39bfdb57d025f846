import type { Command } from 'commander';
import { makeProgram } from '../../src/cli/program.ts';

/** A command and those below it, parents first. */
export function allCommands(command: Command): readonly Command[] {
  return [command, ...command.commands.flatMap(allCommands)];
}

/** Help as printed, with the examples that come after the options. */
export function helpOf(command: Command): string {
  let text = '';
  command.configureOutput({
    writeOut: (part) => {
      text += part;
    },
  });
  command.outputHelp();
  return text;
}

/** Lines of a text that call the command, without what stands beside them, from the first column or indented. */
export function commandLines(text: string): readonly string[] {
  return [...text.matchAll(/^ *(?:\$ )?(steadyrig .+)$/gm)].map(([, line = '']) =>
    line.replace(/ {2,}\S.*$/, '').trim(),
  );
}

/** Words as a shell would make them of a plain line: quotes, `\ `, comments, and it ends at `>`, `|`, `&` or `;`. */
export function shellWords(line: string): readonly string[] {
  const words: string[] = [];
  for (const [part] of line.matchAll(/(?:"[^"]*"|'[^']*'|\\.|[^\s"'\\])+/g)) {
    if (/^(\d?>|[|&;#])/.test(part)) break;
    words.push(part.replace(/"([^"]*)"|'([^']*)'|\\(.)/g, '$1$2$3'));
  }
  return words;
}

/**
 * What the command line makes of these words, without doing it: the name of the command that would run. Throws commander's error
 * where they do not fit.
 */
export async function understand(words: readonly string[]): Promise<string> {
  let named = '';
  const program = makeProgram(() => {});
  for (const command of allCommands(program)) {
    command.configureOutput({ writeErr: () => {}, writeOut: () => {} });
    if (command.commands.length === 0)
      command.action(() => {
        named = command.name();
      });
  }
  await program.parseAsync(words.slice(1), { from: 'user' });
  return named;
}
