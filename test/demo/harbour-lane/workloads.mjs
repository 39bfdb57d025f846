import { rounded, significant } from './chance.mjs';

/**
 * How the invented processor does each workload: what one run prints, how long it takes, how much of the processor it keeps busy,
 * how far it heats it up (K), and what it draws (W) at which clock (Hz).
 */
export const workloads = {
  pack: {
    figures: ['compression', 'decompression'],
    outside: 2.4,
    seconds: ({ size }, { compression, decompression }) =>
      size / compression + size / decompression,
    result: ({ size }, { compression, decompression }) => ({
      workload: 'deflate',
      compressionBytesPerSecond: compression,
      decompressionBytesPerSecond: decompression,
      bytes: size,
    }),
    ...{ busyCpus: 11.6, heat: 33, watts: 61, clockHz: 4.24e9, peakBytes: 2.61e9 },
  },
  render: {
    figures: ['samples'],
    outside: 0.9,
    seconds: ({ width, height, samples: paths }, { samples }) => (width * height * paths) / samples,
    result: ({ width, height }, { samples }) => ({
      workload: 'path-trace',
      samplesPerSecond: samples,
      pixels: width * height,
    }),
    ...{ busyCpus: 11.9, heat: 36, watts: 65, clockHz: 4.2e9, peakBytes: 188e6 },
  },
  records: {
    figures: ['records'],
    outside: 0.4,
    seconds: (parameters, { records }) => (parameters.records * parameters.passes) / records,
    result: ({ records: each, passes }, { records }) => ({
      workload: 'json-sort',
      recordsPerSecond: records,
      records: each * passes,
    }),
    ...{ busyCpus: 1.15, heat: 17, watts: 24, clockHz: 4.58e9, peakBytes: 141e6 },
  },
  copy: {
    figures: ['copying'],
    outside: 0.6,
    seconds: ({ size, passes }, { copying }) => (size * passes) / copying,
    result: ({ size, passes }, { copying }) => ({
      workload: 'memory-copy',
      bytesPerSecond: copying,
      copiedBytes: size * passes,
    }),
    ...{ busyCpus: 11.2, heat: 22, watts: 41, clockHz: 4.3e9, peakBytes: 604e6 },
  },
};

/** What a run prints: one line of JSON, marked as invented. */
export function printed({ result, seconds }, parameters, figures) {
  const line = {
    ...result(parameters, figures),
    seconds: rounded(seconds(parameters, figures), 6),
    note: 'invented, nothing was run',
  };
  return `${JSON.stringify(line)}\n`;
}

/** Of the program and its threads, as the kernel would count them. */
export function accountingOf({ outside, busyCpus, peakBytes }, seconds, draws) {
  const wallSeconds = rounded(outside + seconds, 6);
  const cpuSeconds = outside * 1.1 + seconds * busyCpus;
  const system = 0.02 + draws.uniform() * 0.01;
  return {
    wallSeconds,
    userSeconds: rounded(cpuSeconds * (1 - system), 6),
    systemSeconds: rounded(cpuSeconds * system, 6),
    peakMemory: { kind: 'exact', bytes: 4096 * Math.round(peakBytes / 4096 + draws.whole(0, 400)) },
    minorFaults: Math.round(peakBytes / 4096) + draws.whole(0, 900),
    majorFaults: 0,
    voluntarySwitches: draws.whole(180, 520),
    involuntarySwitches: Math.round(wallSeconds * busyCpus) + draws.whole(0, 60),
  };
}

export const figureOf = (base, factor, deviation) =>
  significant(base * factor * (1 + deviation), 7);
