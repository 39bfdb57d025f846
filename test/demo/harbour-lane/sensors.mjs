import { rounded } from './chance.mjs';

const source = 'invented';
const cpus = 12;
/** Of the processor, Cel. */
const critical = 100;

const sensor = (id, kind, unit, label, nature, more = {}) => ({
  ...{ id, kind, unit, label: `${label} (invented)`, source, nature, everySeconds: 5 },
  ...{ critical: null, range: null },
  ...more,
});

const temperature = 'temp/coretemp.0/package-id-0';
const counters = [
  ['energy/package-0', 'energy', 'J', 'energy of package-0'],
  ['throttle/core/count', 'throttle', '1', 'CPU cores throttled, times'],
  ['throttle/package/count', 'throttle', '1', 'CPU throttled, times'],
  ['throttle/package/time', 'throttle', 's', 'CPU throttled'],
  ['time/cpu/busy', 'time', 's', 'CPU time, busy'],
  ['time/cpu/steal', 'time', 's', 'CPU time, stolen'],
  ['time/cpu/total', 'time', 's', 'CPU time, all'],
  ['pressure/cpu/some', 'pressure', 's', 'waiting for a CPU, some'],
  ['pressure/memory/some', 'pressure', 's', 'waiting for memory, some'],
  ['pressure/memory/full', 'pressure', 's', 'waiting for memory, full'],
  ['pressure/io/some', 'pressure', 's', 'waiting for disks, some'],
  ['pressure/io/full', 'pressure', 's', 'waiting for disks, full'],
];

export const sensorTable = (at) => ({
  schema: 'steadyrig/sensors/1',
  at,
  sensors: [
    sensor(temperature, 'temperature', 'Cel', 'Package id 0', 'gauge', { critical }),
    sensor('clock/cpu/mean', 'clock', 'Hz', 'CPU clock, mean of all', 'gauge'),
    sensor('clock/cpu/fastest', 'clock', 'Hz', 'CPU clock, fastest', 'gauge'),
    ...counters.map(([id, kind, unit, label]) => sensor(id, kind, unit, label, 'counter')),
  ],
  absent: [],
  main: { sensors: [temperature], nature: 'package', critical, passedOver: [] },
});

/**
 * The sensors of a rig through a sitting: `pass` lets time go by under a load and takes samples, `celsius` is the processor's
 * temperature now. It heats up and cools down by a fixed share a second towards where the load would bring it.
 */
export function senseRig({ startedAt, idleCelsius, draws }) {
  const samples = [];
  const count = Object.fromEntries(counters.map(([id]) => [id, 0]));
  count['time/cpu/total'] = cpus * draws.whole(300, 900);
  count['time/cpu/busy'] = rounded(count['time/cpu/total'] * 0.02, 2);
  count['energy/package-0'] = draws.whole(4000, 9000);
  let [now, celsius, clockHz] = [0, idleCelsius + 0.5, 1.4e9];

  const take = () => {
    const noise = draws.uniform();
    samples.push({
      schema: 'steadyrig/sample/1',
      atSeconds: rounded(now, 3),
      at: new Date(Date.parse(startedAt) + Math.round(now * 1000)).toISOString(),
      values: {
        [temperature]: Math.round(celsius),
        'clock/cpu/mean': Math.round(clockHz * (0.99 + noise * 0.008)),
        'clock/cpu/fastest': Math.round(clockHz),
        ...Object.fromEntries(Object.entries(count).map(([id, value]) => [id, rounded(value, 3)])),
      },
    });
  };
  const add = (id, amount) => {
    count[id] += amount;
  };
  const step = (seconds, load) => {
    // Cools more slowly than it heats up.
    const share = Math.min(1, seconds / (load.heat > 0 ? 6 : 9));
    celsius += (Math.min(critical - 1, idleCelsius + load.heat) - celsius) * share;
    const isSlowed = load.isHot && celsius >= critical - 6;
    clockHz = load.clockHz * (isSlowed ? 0.9 : 1);
    now += seconds;
    add('time/cpu/total', cpus * seconds);
    add('time/cpu/busy', load.busyCpus * seconds);
    add('energy/package-0', load.watts * seconds);
    add('pressure/cpu/some', load.busyCpus > 10 ? 0.04 * seconds : 0);
    add('pressure/io/some', 0.0004 * seconds);
    if (!isSlowed) return;
    const times = Math.ceil(seconds * 3);
    add('throttle/core/count', times);
    add('throttle/package/count', times);
    add('throttle/package/time', 0.4 * seconds);
  };

  return {
    samples,
    celsius: () => Math.round(celsius),
    now: () => now,
    /** Samples at the begin, every five seconds, and at the end. */
    pass(seconds, load) {
      take();
      for (let left = seconds; left > 0; left -= 5) {
        step(Math.min(5, left), load);
        take();
      }
    },
  };
}

export const idleLoad = { heat: 0, clockHz: 1.4e9, watts: 7, busyCpus: 0.1, isHot: false };
