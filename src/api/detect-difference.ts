import { planDetection } from '../compare/plan-detection.ts';
import { err, ok, type Result } from '../lib/result.ts';
import type { Detection } from '../model/detection.ts';
import { type Problem, plainProblem } from '../model/problem.ts';
import type { Suite } from '../model/suite.ts';
import { cooldownSeconds } from '../plan/estimate.ts';
import { repeatRounds } from '../plan/make-plan.ts';
import { firstMetrics } from './study/first-metrics.ts';
import { readStudyOf } from './study/read-study-of.ts';

export interface DetectionOptions {
  /** Folder of the sittings and studies. */
  readonly results: string;
  /** Label of the rig whose study is preferred; null takes the latest of any. */
  readonly rig: string | null;
  /** A fraction above 0: 0.03 is 3 %. */
  readonly difference: number;
  /** What a sitting takes beside its runs: swap, reboot, settling. */
  readonly sittingSeconds: number;
}

export interface DetectionOutcome {
  readonly detection: Detection;
  /** Studies that could not be read. */
  readonly problems: readonly Problem[];
}

/**
 * How many sittings and repeats a comparison needs to find a difference, by the latest precision study of this rig and suite, or
 * else of any rig and this suite. Without one the problem says which study to make.
 */
export async function detectDifference(
  suite: Suite,
  { results, rig, difference, sittingSeconds }: DetectionOptions,
): Promise<Result<DetectionOutcome, readonly Problem[]>> {
  const read = await readStudyOf(suite, rig, results);
  if (!read.ok) return err([read.error]);
  const { study, problems } = read.value;
  if (study === null) return err([...problems, noStudy(suite, rig, results)]);
  const { rows, untold } = firstMetrics(suite, study);
  const repeats = repeatRounds(suite).certain;
  const wait = cooldownSeconds(suite.cooldown).least;
  const runSeconds = new Map(
    study.times.map((time) => [time.workload, time.seconds + (time.cooldownSeconds ?? wait)]),
  );
  const { warmUps } = suite;
  const question = { difference, repeats, warmUps, sittingSeconds, runSeconds };
  const detection: Detection = {
    difference,
    study: { rig: study.rig, at: study.at, sittings: study.sittings.length },
    repeats,
    sittingSeconds,
    ...planDetection(rows, question),
    untold,
  };
  return ok({ detection, problems });
}

function noStudy({ id, digest, profile }: Suite, rig: string | null, results: string): Problem {
  const label = rig ?? 'a rig';
  const of = profile === null ? id : `${id}, profile ${profile}`;
  const message = `no precision study of the suite ${of} (digest ${digest.slice(0, 12)}) in ${results}: measure ${label} unchanged three times or more, better five, rebooted or re-seated between (steadyrig run ${id} --rig ${rig ?? 'LABEL'}), then steadyrig precision ${rig ?? 'LABEL'} --suite ${id}`;
  return plainProblem('not-comparable', message);
}
