// How often the comparison is wrong, and how often it sees a difference, by simulation through the engine itself.
// Every cell is `share±standard error` of the simulation, per cent; `!`: above what is wanted by more than two of these.
// --short: fewer rounds, in seconds.
import { type BlockName, cellsOf } from './cells.ts';
import { historyTables } from './histories.ts';
import {
  falseAlarms,
  falseEquivalence,
  notCovered,
  percent,
  power,
  type Show,
  summary,
  table,
  type Worked,
} from './tables.ts';
import { workAll } from './work-all.ts';

const part = process.argv.includes('--short') ? 0.02 : 1;
const started = performance.now();

function say(text: string): void {
  process.stdout.write(`${text}\n\n`);
}

async function work(block: BlockName): Promise<Worked> {
  const cells = cellsOf(block, part);
  const tallies = await workAll(cells, (done) => {
    if (process.stderr.isTTY) process.stderr.write(`\r${block}: ${done} of ${cells.length} cells `);
  });
  if (process.stderr.isTTY) process.stderr.write('\r');
  return cells.flatMap((cell, at) => {
    const tally = tallies[at];
    return tally === undefined ? [] : [{ cell, tally }];
  });
}

function show(worked: Worked, block: BlockName, title: string, kind: Show, ratio: number): void {
  say(`# ${title}`);
  say(summary(worked, block, kind, ratio));
  say(table(worked, block, kind, ratio));
}

const equal = await work('equal');
show(equal, 'equal', 'False alarms: equal rigs called better or worse', falseAlarms, 1);
const edge = await work('edge');
show(edge, 'edge', 'Intervals that miss the truth (true ratio 1.02)', notCovered, 1.02);
show(edge, 'edge', 'Called equivalent at the edge (true ratio 1.02)', falseEquivalence, 1.02);
const powers = await work('power');
for (const ratio of [1, 1.01, 1.02, 1.03, 1.05]) {
  say(`# Difference found: true difference ${percent(ratio - 1)} %`);
  say(table(powers, 'power', power, ratio));
}
const adaptive = await work('adaptive');
show(adaptive, 'adaptive', 'False alarms with adaptive repeats', falseAlarms, 1);
const families = await work('families');
say('# Any false alarm in a comparison of 30 workloads (Holm)');
say(table(families, 'families', falseAlarms, 1));
say('# Overall index: intervals that miss the truth');
say(table(families, 'families', notCovered, 1));
const orders = await work('orders');
say(
  '# Drift over sittings, 0.5 s_r each: equal rigs (A, B) called better or worse, by order of sittings',
);
say(table(orders, 'orders', falseAlarms, 1));
say(historyTables(part));
say(`${((performance.now() - started) / 1000).toFixed(0)} s`);
