import { once } from 'node:events';
import { Worker } from 'node:worker_threads';
import { bootstrapPairs, quantile, renderRatio } from './bootstrap.mjs';
import { account, plainRequest } from './request.mjs';

/** Prints our wall time of a program that does nothing beside that of a bare start, alternating which comes first. */
export async function compareStarts(meter, folder, count) {
  const argv = ['/bin/true'];
  const { environment } = plainRequest(argv, folder);
  const thread = new Worker(new URL('bare-start.mjs', import.meta.url), {
    workerData: { argv, environment, folder },
  });
  const bare = async () => {
    thread.postMessage('start');
    return (await once(thread, 'message'))[0];
  };
  const ours = async () => (await account(meter, plainRequest(argv, folder))).wallSeconds * 1e6;
  for (let warmUp = 0; warmUp < 20; warmUp++) {
    await bare();
    await ours();
  }
  const pairs = [];
  for (let pair = 0; pair < count; pair++) {
    if (pair % 2 === 0) pairs.push([await ours(), await bare()]);
    else pairs.push([await bare(), await ours()].reverse());
  }
  await thread.terminate();
  console.log(`${count} starts of ${argv[0]}, wall time in microseconds`);
  for (const [share, name, target] of [
    [0.5, 'median', '1.10'],
    [0.95, '95th percentile', '1.5'],
  ]) {
    const of = (side, list) =>
      quantile(
        list.map((pair) => pair[side]),
        share,
      );
    const ratio = bootstrapPairs(pairs, (drawn) => of(0, drawn) / of(1, drawn));
    console.log(
      `  ${name}: ours ${of(0, pairs).toFixed(0)}, bare ${of(1, pairs).toFixed(0)}, ratio ${renderRatio(ratio)}, target ${target} or less`,
    );
  }
}
