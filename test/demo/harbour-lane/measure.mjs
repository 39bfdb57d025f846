import { hash } from 'node:crypto';
import { summarizeRun } from '../../../dist/runner/telemetry/run-summary.js';
import { rounded } from './chance.mjs';
import { idleLoad, senseRig, sensorTable } from './sensors.mjs';
import { figures as planted, plantedFactor, spread } from './truth.mjs';
import { accountingOf, figureOf, printed, workloads } from './workloads.mjs';

/**
 * Everything that an invented sitting leaves but `sitting.json`: its runs, what they printed, and the sensors meanwhile. `situation`:
 * what was the matter with the rig that day.
 */
export function measure({ suite, plan, levels, situation, startedAt, bootId, idleCelsius, draws }) {
  const ofSitting = Object.fromEntries(
    Object.keys(planted).map((figure) => [figure, draws.normal() * spread.between]),
  );
  const sensors = senseRig({ startedAt, idleCelsius, draws });
  const table = sensorTable(startedAt);
  const logs = new Map();
  const runs = plan.runs.map((planned) => {
    const workload = suite.workloads.find(({ id }) => id === planned.workload);
    const cooldown = planned.index === 0 ? null : coolDown(sensors, draws);
    const model = workloads[workload.id];
    const parameters = resolved(workload.program.parameters);
    const found = Object.fromEntries(
      model.figures.map((figure) => {
        const factor = plantedFactor(figure, levels, situation);
        const chance = ofSitting[figure] + draws.normal() * spread.within;
        return [figure, figureOf(planted[figure].base, factor, chance)];
      }),
    );
    const accounting = accountingOf(model, model.seconds(parameters, found), draws);
    const from = rounded(sensors.now(), 3);
    sensors.pass(accounting.wallSeconds, loadOf(model, levels, situation));
    const stdout = printed(model, parameters, found);
    const name = `logs/${String(planned.index).padStart(4, '0')}-${workload.id}`;
    return {
      schema: 'steadyrig/run/1',
      ...{ plan: planned.index, attempt: 1, phase: planned.phase, round: planned.round },
      ...{ workload: workload.id, parameters },
      startedAt: new Date(Date.parse(startedAt) + Math.round(from * 1000)).toISOString(),
      ...{ sinceStartSeconds: from, bootId, meter: 'kernel', outcome: 'ok', failure: null },
      ...{ exit: { kind: 'code', code: 0 }, stopped: null, accounting, leftBehind: 0 },
      metrics: workload.metrics.map(({ id, unit, better }) => ({
        ...{ id, value: found[id], unit, better },
      })),
      ...{ disturbances: [], cooldown },
      logs: {
        stdout: keep(logs, `${name}.stdout.txt`, stdout),
        stderr: keep(logs, `${name}.stderr.txt`, ''),
      },
      ...{ pageCache: null, steps: null },
      telemetry: summarizeRun(table, sensors.samples, from, rounded(sensors.now(), 3)),
      entry: null,
    };
  });
  return { runs, logs, table, samples: sensors.samples, seconds: sensors.now() };
}

/** Until the processor is within 4 K of its rest, 10 s at least. */
function coolDown(sensors, draws) {
  const seconds = 25 + draws.whole(0, 5);
  sensors.pass(seconds, idleLoad);
  return {
    seconds: rounded(seconds + draws.uniform() * 0.01, 6),
    ended: 'temperature-reached',
    celsius: sensors.celsius(),
    load: 0.01,
  };
}

const resolved = (parameters) =>
  Object.fromEntries(
    Object.entries(parameters).map(([id, value]) => [id, value === 'all' ? 12 : value]),
  );

/** The second board gives the processor a little more to draw, and in a hot room cooling falls behind. */
function loadOf({ heat, watts, clockHz, busyCpus }, { board }, { isHot }) {
  const second = board === 'second';
  return {
    heat: heat * (second ? 1.05 : 1) + (isHot ? 24 : 0),
    watts: watts * (second ? 1.04 : 1),
    clockHz: clockHz * (second ? 1.02 : 1),
    ...{ busyCpus, isHot },
  };
}

function keep(logs, path, text) {
  logs.set(path, text);
  const bytes = Buffer.byteLength(text);
  return { path, bytes, keptBytes: bytes, sha256: hash('sha256', text), redactions: 0 };
}
