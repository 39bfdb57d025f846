// Writes a results folder of invented sittings: rigs x 10 sittings x 50 workloads (or as many as are asked for) x 10 repeats, records as a real sitting
// writes them, sealed. Without syncing each line, and without the log files that the records name.
import { createHash } from 'node:crypto';
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { encodeLine, firstSum } from '../../../dist/journal/format.js';
import { blankSitting } from '../../../dist/model/blank-sitting.js';
import { bagDeclaration, renderManifest } from '../../../dist/results/bag.js';

const [folder, rigCount, inventoryPath, workloadCount = '50'] = process.argv.slice(2);
const inventory = readFileSync(inventoryPath, 'utf8');
const sittings = 10;
const workloads = Number(workloadCount);
const repeats = 10;

let state = 2463534242;
const uniform = () => {
  state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
  return (state + 0.5) / 2 ** 32;
};
const normal = () => Math.sqrt(-2 * Math.log(uniform())) * Math.cos(2 * Math.PI * uniform());

const limits = { timeSeconds: 600, outputBytes: 67108864 };
const suite = {
  id: 'million',
  title: 'A million runs (invented)',
  description: null,
  revision: 1,
  repeats: { kind: 'fixed', count: repeats },
  warmUps: 0,
  order: 'as-written',
  seed: 1,
  cooldown: { kind: 'fixed', seconds: 0 },
  limits,
  temperatureLimit: { celsius: null, marginKelvin: 5 },
  retry: { failed: 0, disturbed: 0 },
  parkAfter: 3,
  requires: [],
  differenceThatMatters: 0.02,
  workloads: Array.from({ length: workloads }, (_, index) => ({
    id: `work-${index}`,
    title: `Invented work ${index}`,
    program: { kind: 'command', argv: ['/bin/true', `--level=${index}`] },
    inputs: {},
    pageCache: null,
    environment: {},
    affinity: null,
    priority: null,
    limits,
    expect: { exitCode: 0, output: null },
    metrics: [
      {
        id: 'wall',
        source: { kind: 'accounting', reading: 'wall', step: null },
        unit: 's',
        better: 'lower',
      },
    ],
  })),
  programs: {},
  profile: null,
  digest: createHash('sha256').update('million').digest('hex'),
};
const plan = {
  seed: 1,
  order: 'as-written',
  algorithm: 'as-written/1',
  runs: Array.from({ length: workloads * repeats }, (_, index) => ({
    index,
    phase: 'repeat',
    round: Math.floor(index / workloads) + 1,
    workload: `work-${index % workloads}`,
    conditional: false,
  })),
};

const sha256 = createHash('sha256').update('').digest('hex');
const log = (path) => ({ bytes: 152, keptBytes: 152, sha256, path, redactions: 0 });
const bootId = '64837e2d-dcc9-4c1c-82fe-db151f30a55b';

function run(index, startedAt, seconds) {
  const workload = `work-${index % workloads}`;
  const name = `logs/${String(index).padStart(4, '0')}-${workload}`;
  return {
    schema: 'steadyrig/run/1',
    plan: index,
    attempt: 1,
    phase: 'repeat',
    round: Math.floor(index / workloads) + 1,
    workload,
    bootId,
    meter: 'kernel',
    disturbances: [],
    cooldown: {
      seconds: 10,
      ended: 'time-passed',
      celsius: 41.5 + uniform(),
      load: uniform() / 50,
    },
    startedAt,
    sinceStartSeconds: index * 12 + uniform(),
    parameters: null,
    failure: null,
    exit: { kind: 'code', code: 0 },
    stopped: null,
    accounting: {
      wallSeconds: seconds,
      userSeconds: seconds * 0.9,
      systemSeconds: seconds * 0.05,
      peakMemory: { kind: 'exact', bytes: 64430080 + Math.floor(uniform() * 1e6) },
      minorFaults: 6875,
      majorFaults: 0,
      voluntarySwitches: 259,
      involuntarySwitches: 116,
    },
    leftBehind: 0,
    metrics: [{ id: 'wall', unit: 's', better: 'lower', value: seconds }],
    logs: { stdout: log(`${name}.stdout.txt`), stderr: log(`${name}.stderr.txt`) },
    pageCache: null,
    steps: null,
    telemetry: {
      startTemperature: 41 + uniform(),
      meanTemperature: 62 + uniform(),
      maxTemperature: 70 + uniform(),
      meanClockHz: 3.1e9 + uniform() * 1e8,
      meanFastestClockHz: 4.2e9 + uniform() * 1e8,
      energyJoules: null,
      throttleEvents: 0,
      throttleSeconds: 0,
      stealShare: 0,
      cpuPressureSome: uniform() / 5,
      memoryPressureSome: 0,
      memoryPressureFull: 0,
      ioPressureSome: 0,
      ioPressureFull: 0,
      samples: 2,
      absent: { energyJoules: 'no-sensor' },
    },
    outcome: 'ok',
    entry: null,
  };
}

const sha512 = (content) => createHash('sha512').update(content).digest('hex');

function seal(path, files) {
  const payload = files.map(([name, content]) => [`data/${name}`, sha512(content)]);
  const manifest = renderManifest(payload);
  const info = 'Bag-Software-Agent: steadyrig, invented data\n';
  const tags = [
    ['bagit.txt', bagDeclaration],
    ['bag-info.txt', info],
    ['manifest-sha512.txt', manifest],
  ];
  for (const [name, content] of tags) writeFileSync(join(path, name), content);
  const sums = tags.map(([name, content]) => [name, sha512(content)]);
  writeFileSync(join(path, 'tagmanifest-sha512.txt'), renderManifest(sums));
}

function writeSitting(rig, number) {
  const time = new Date(Date.UTC(2026, 0, 1 + number, 0, 0, Number(rig.slice(4))));
  const startedAt = time.toISOString();
  const stamp = startedAt.replace(/[-:]|\.\d+/g, '');
  const id = `${stamp}-${rig}-million-${number.toString(16).padStart(4, '0')}`;
  const sitting = {
    schema: 'steadyrig/sitting/1',
    id,
    tool: { name: 'steadyrig', version: '0.1.0' },
    rig,
    levels: { part: rig },
    assembly: number,
    conditions: { ambientCelsius: 21.5, notes: 'invented' },
    suite: { text: 'suite: million\n', textSha256: sha256, resolved: suite, redactions: 0 },
    plan,
    meter: { name: 'kernel', why: null },
    environment: { PATH: '/usr/bin' },
    cpus: 2,
    startedAt,
    ...blankSitting,
    endedAt: startedAt,
    bootIds: [bootId],
    state: 'complete',
  };
  const rigEffect = (Number(rig.slice(4)) % 7) * 0.01;
  const sittingEffect = Array.from({ length: workloads }, () => 0.01 * normal());
  let sum = firstSum;
  const lines = plan.runs.map(({ index }) => {
    const place = index % workloads;
    const seconds = (1 + place) * Math.exp(rigEffect + sittingEffect[place] + 0.01 * normal());
    const line = encodeLine(run(index, startedAt, seconds), sum);
    sum = line.sum;
    return line.text;
  });
  const files = [
    ['inventory.json', inventory],
    ['runs.jsonl', lines.join('')],
    ['sitting.json', `${JSON.stringify(sitting, null, 2)}\n`],
  ];
  const path = join(folder, id);
  mkdirSync(join(path, 'data', 'logs'), { recursive: true });
  for (const [name, content] of files) writeFileSync(join(path, 'data', name), content);
  seal(path, files);
  return files.reduce((bytes, [, content]) => bytes + Buffer.byteLength(content), 0);
}

let bytes = 0;
for (let rig = 0; rig < Number(rigCount); rig += 1) {
  const label = `rig-${String(rig).padStart(3, '0')}`;
  for (let number = 0; number < sittings; number += 1) bytes += writeSitting(label, number);
}
console.log(JSON.stringify({ bytes }));
