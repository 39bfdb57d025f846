import { parentPort } from 'node:worker_threads';
import { reapIfEnded, setSubreaper } from './kernel-calls.ts';
import { letRun, prepareProgram } from './run-program.ts';
import type { FromWorker, ToWorker } from './worker-messages.ts';

/*
 * The thread that starts measured programs and waits for them, blocking itself and not the event loop. While a
 * program runs it sleeps in the kernel.
 */

const port = parentPort;
if (port === null) throw new Error('internal error: the meter thread was started as a program');
const say = (message: FromWorker): void => port.postMessage(message);

port.on('message', (message: ToWorker) => {
  switch (message.kind) {
    case 'start':
      say(prepareProgram(message, say));
      break;
    case 'go': {
      const answer = letRun();
      if (answer !== null) say(answer);
      break;
    }
    case 'reap':
      message.pids.forEach(reapIfEnded);
      break;
    case 'close':
      setSubreaper(false);
      port.close();
  }
});

try {
  setSubreaper(true);
  say({ kind: 'opened' });
} catch (error) {
  say({ kind: 'unavailable', why: (error as Error).message });
}
