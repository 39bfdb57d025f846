import { bootstrapPairs, quantile, renderRatio } from './bootstrap.mjs';
import { account, plainRequest } from './request.mjs';
import { startWatching } from './watching.mjs';

/** Prints what live progress and sampling do to a program that only computes. */
export async function compareWatched(meter, folder, count, seconds) {
  const turns = await turnsFor(meter, folder, seconds);
  const request = () => computing(turns, folder);
  const quiet = () => observe(meter, request());
  const costs = [];
  const watched = async () => {
    const stop = await startWatching();
    const seen = await observe(meter, request());
    costs.push(await stop());
    return seen;
  };
  const pairs = [];
  for (let pair = 0; pair < count; pair++) {
    if (pair % 2 === 0) pairs.push([await watched(), await quiet()]);
    else pairs.push([await quiet(), await watched()].reverse());
  }
  console.log(`${count} pairs of a computation of about ${seconds} s, watched and not`);
  for (const [key, name] of [
    ['wallSeconds', 'wall time'],
    ['cpuSeconds', 'its CPU time'],
  ]) {
    const logs = pairs.map(([one, other]) => [Math.log(one[key] / other[key])]);
    const ratio = bootstrapPairs(logs, (drawn) =>
      Math.exp(
        quantile(
          drawn.map(([log]) => log),
          0.5,
        ),
      ),
    );
    console.log(`  ${name}: median ratio ${renderRatio(ratio, 4)}, target below 1.003`);
  }
  for (const [side, name] of [
    [0, 'watched'],
    [1, 'not watched'],
  ]) {
    const shares = pairs.map((pair) => (pair[side].agentSeconds / pair[side].wallSeconds) * 100);
    console.log(
      `  CPU time of this process, starting and ending included, ${name}: ${quantile(shares, 0.5).toFixed(3)} % of one CPU`,
    );
  }
  printCosts(costs);
}

/** The middle one of the costs that the sampler itself reported. */
function printCosts(costs) {
  const middle = (pick) => (quantile(costs.map(pick), 0.5) * 1000).toFixed(2);
  console.log(
    `  a sample of the sensors: ${middle((cost) => cost.meanWallSeconds)} ms, ${middle((cost) => cost.meanCpuSeconds)} ms of CPU time, the longest ${middle((cost) => cost.maxWallSeconds)} ms`,
  );
}

/** Accounting of a run, and the CPU time that this process took from the start of the program to its end. */
async function observe(meter, request) {
  let before = process.cpuUsage();
  const accounting = await account(meter, {
    ...request,
    onStart: () => {
      before = process.cpuUsage();
    },
  });
  const { user, system } = process.cpuUsage(before);
  const cpuSeconds = accounting.userSeconds + accounting.systemSeconds;
  return { wallSeconds: accounting.wallSeconds, cpuSeconds, agentSeconds: (user + system) / 1e6 };
}

/** Fixed work without memory or system calls worth the name: a chain of integer operations. */
function computing(turns, folder) {
  const script = `let x = 1; for (let i = 0; i < ${turns}; i++) { x ^= x << 13; x ^= x >>> 17; x ^= x << 5; } console.log(x)`;
  return plainRequest(
    [process.execPath, '--single-threaded', '-e', `(() => { ${script} })()`],
    folder,
  );
}

/** How many turns take the time on this machine. */
async function turnsFor(meter, folder, seconds) {
  const least = 2e8;
  const { wallSeconds } = await account(meter, computing(least, folder));
  return Math.round((least * seconds) / wallSeconds);
}
