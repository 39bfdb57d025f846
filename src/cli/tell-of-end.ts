import { EndWatcher, type SittingEnd, type SittingSubject } from '../api/notice/end-watcher.ts';
import { type EndTargets, tellEnd } from '../api/tell-end.ts';
import type { SittingEvent } from '../model/event.ts';
import type { ExitCode } from './exit-codes.ts';
import { printError } from './print.ts';
import { untilSignal } from './until-signal.ts';

/** Tells of a sitting's end, once it is over. */
export interface EndTeller {
  see(event: SittingEvent): void;
  /** Resolves when all are told, or could not be, which is on the screen then. A signal ends the telling. */
  tell(end: SittingEnd, exitCode: ExitCode): Promise<void>;
}

export function endTeller(
  targets: EndTargets | null,
  subject: SittingSubject,
  stream: NodeJS.WritableStream,
): EndTeller {
  if (targets === null) return { see: () => undefined, tell: async () => undefined };
  const watcher = new EndWatcher(subject);
  return {
    see: (event) => watcher.see(event),
    async tell(end, exitCode) {
      if (isAnswerToInput(end)) return;
      const notice = watcher.notice(end, exitCode, new Date());
      const told = await untilSignal((leaving) => tellEnd(notice, targets, leaving));
      for (const { whom, isTold, message } of told) {
        if (isTold) stream.write(`told ${whom} of the end: ${message}\n`);
        else printError(`warn (notify): ${whom} could not be told of the end: ${message}`);
      }
    },
  };
}

/** Whoever gave a wrong option sits before the screen. */
function isAnswerToInput(end: SittingEnd): boolean {
  return (
    end !== null && !end.ok && (end.error.kind === 'bad-option' || end.error.kind === 'bad-folder')
  );
}
