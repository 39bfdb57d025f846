import type { Command } from 'commander';
import { asOption, cacheOption, resultsOption, scratchOption } from '../arguments.ts';
import { type Exit, lazily } from '../lazily.ts';

const examples = `
Examples:
  steadyrig install-service --print      only show the unit
  steadyrig install-service 9f3c         show it, ask, then write and enable it
  sudo steadyrig install-service 9f3c --system --as workbench --yes
  steadyrig install-service 9f3c --remove

The service goes on with the sitting at each start of the machine until it is
done, then takes itself away. After two starts in a row in which no run was
finished it gives up, and leaves word in the sitting's folder.`;

export function defineInstallService(program: Command, exit: Exit): void {
  program
    .command('install-service')
    .description('have an unfinished sitting continued when the machine starts (systemd)')
    .argument('[sitting]', 'its folder, its id or the end of it; left out, the newest unfinished')
    .addOption(resultsOption())
    .option('--system', 'as root: a unit of the system instead of one of the user')
    .option('--suite <file>', 'the suite file, where the record does not hold all of it')
    .addOption(cacheOption())
    .addOption(scratchOption())
    .addOption(asOption())
    .option('--print', 'print the unit and write nothing')
    .option('--yes', 'write without asking')
    .option('--remove', 'disable the service and delete its unit')
    .addHelpText('after', examples)
    .action(
      lazily(async () => (await import('../actions/install-service.ts')).installService, exit),
    );
}
