import { compareRigs } from '../../src/compare/compare-rigs.ts';
import { factorEffects } from '../../src/compare/effects/factor-effects.ts';
import { rigFigures } from '../../src/compare/figures/rig-figures.ts';
import type { ComparedRig } from '../../src/model/comparison-request.ts';
import {
  type CourseSeries,
  type Report,
  reportSchema,
  type SittingCourse,
} from '../../src/model/report.ts';
import { sampleFigures, sampleMetric, sampleWorkloadFigures } from './figures.ts';
import { unwrap } from './unwrap.ts';

export interface SampleSize {
  readonly rigs?: number;
  readonly workloads?: number;
  readonly sittings?: number;
  readonly repeats?: number;
  /** Points of every sensor through every sitting; 0: no courses. */
  readonly coursePoints?: number;
}

/** An invented report of the Harbour Lane co-op, figured out by the real engine from seeded values: better, worse and undecided rows, an excluded run. */
export function sampleReport(size: SampleSize = {}): Report {
  const { rigs: count = 4, workloads = 6, sittings = 3, repeats = 5, coursePoints = 60 } = size;
  const draw = generator(7);
  const rigs = Array.from({ length: count }, (_, at) =>
    sampleRig(at, { workloads, sittings, repeats }, draw),
  );
  const [baseline, ...candidates] = rigs;
  if (baseline === undefined) throw new Error('a report needs a rig');
  const request = {
    confidence: 0.95,
    matters: null,
    allowRevision: false,
    studies: [],
    weights: null,
  };
  const first = unwrap(compareRigs({ ...request, baseline, candidates }));
  const others =
    count > 10
      ? []
      : candidates.map((rig) =>
          unwrap(
            compareRigs({
              ...request,
              baseline: rig,
              candidates: rigs.filter((one) => one !== rig),
            }),
          ),
        );
  const ids = Array.from({ length: workloads }, (_, at) => `work-${at}`);
  const effects = factorEffects({
    factors: null,
    rigs: rigs.map((rig) => ({ ...rig, levels: null })),
    confidence: 0.95,
    matters: null,
    allowRevision: false,
    studies: [],
    order: null,
  });
  return {
    schema: reportSchema,
    tool: '0.1.0',
    title: 'Boards for refurbished desktops (invented)',
    question: 'Which board does the co-op buy?',
    invented: true,
    madeAt: '2026-03-01T10:00:00.000Z',
    suite: {
      id: 'harbour',
      title: 'Harbour Lane acceptance (invented)',
      revision: 1,
      profile: null,
      digest: 'a'.repeat(64),
      workloads: ids.map((id) => ({ id, title: `Task ${id}` })),
    },
    rigs: rigs.map(({ label, sittings: own }) => ({
      label,
      title: `Bench ${label}`,
      levels: own[0]?.levels ?? {},
      sittings: own.map(({ id }) => id),
    })),
    answer: ['Board second is better in most tasks.', 'No part can be named as the cause.'],
    comparisons: [first, ...others],
    metrics: rigFigures({
      rigs,
      studies: [],
      digest: 'a'.repeat(64),
      confidence: 0.95,
      titles: new Map(ids.map((id) => [id, `Task ${id}`])),
      facts: (sitting, workload) =>
        sitting === 'rig-1-0' && workload === 'work-1'
          ? [{ excluded: 'the door was open', marks: ['disturbed-runs'] }]
          : [],
    }),
    effects: count > 10 || !effects.ok ? null : effects.value,
    worth: null,
    inventory: [
      {
        path: 'board.name',
        title: 'board',
        part: 'Board',
        values: rigs.map((_, at) => (at % 2 === 0 ? 'Example Quay Q1' : 'Example Quay Q2')),
        differs: true,
        declared: true,
      },
      {
        path: 'os.kernel',
        title: 'kernel',
        part: 'Operating system',
        values: rigs.map(() => '6.1.0 (invented)'),
        differs: false,
        declared: false,
      },
    ],
    courses:
      coursePoints === 0
        ? []
        : rigs.flatMap(({ label, sittings: own }) =>
            own.map(({ id }) => sampleCourse(label, id, { workloads, repeats, coursePoints })),
          ),
    quality: [
      { kind: 'failed-runs', subject: 'rig-1', text: 'failed attempts: work-1: time-limit' },
    ],
    method: ['Suite harbour, revision 1 (invented).', 'Not controlled: the room.'],
    sources: rigs.flatMap(({ label, sittings: own }) =>
      own.map(({ id, startedAt, state }) => ({
        sitting: id,
        rig: label,
        state,
        startedAt,
        seal: 'b'.repeat(128),
        isSealChecked: true,
        tool: '0.1.0',
        runs: workloads * repeats,
      })),
    ),
  };
}

function sampleRig(
  at: number,
  { workloads, sittings, repeats }: { workloads: number; sittings: number; repeats: number },
  draw: () => number,
): ComparedRig {
  const label = `rig-${at}`;
  const levels = {
    board: at % 2 === 0 ? 'first' : 'second',
    memory: at % 4 < 2 ? 'small' : 'large',
  };
  return {
    label,
    sittings: Array.from({ length: sittings }, (_, hour) => {
      const shift = 1 + (draw() - 0.5) * 0.01;
      const figures = Array.from({ length: workloads }, (_, work) => {
        const truth = (10 + work) * (1 - 0.03 * ((at * (work + 1)) % 5)) * shift;
        const values = Array.from({ length: repeats }, () => truth * (1 + (draw() - 0.5) * 0.01));
        const isExcluded = at === 1 && work === 1 && hour === 0;
        return sampleWorkloadFigures([sampleMetric(values)], {
          workload: `work-${work}`,
          excluded: isExcluded ? [0] : [],
        });
      });
      return sampleFigures(label, hour, figures, { levels, invented: true });
    }),
  };
}

/** Ten minutes with every run, the last one failed, and a gap: temperature, clock and power rise in runs and fall between them. */
function sampleCourse(
  rig: string,
  sitting: string,
  {
    workloads,
    repeats,
    coursePoints,
  }: Required<Pick<SampleSize, 'workloads' | 'repeats' | 'coursePoints'>>,
): SittingCourse {
  const count = workloads * (repeats + 1);
  const each = 600 / count;
  const runs = Array.from({ length: count }, (_, at) => ({
    workload: `work-${at % workloads}`,
    fromSeconds: at * each,
    toSeconds: (at + 0.6) * each,
    isWarmUp: at < workloads,
    outcome: at === count - 1 ? ('failed' as const) : ('ok' as const),
  }));
  const series = (
    kind: CourseSeries['kind'],
    unit: CourseSeries['unit'],
    [rest, rise]: readonly [number, number],
  ): CourseSeries => ({
    kind,
    label: 'processor',
    unit,
    points: Array.from({ length: coursePoints }, (_, at) => {
      const atSeconds = (at * 600) / coursePoints;
      const share = ((atSeconds / each) % 1) / 0.6;
      const mean = rest + rise * (share < 1 ? share : 0.2);
      return { atSeconds, mean, low: mean - rise / 20, high: mean + rise / 12 };
    }),
  });
  return {
    sitting,
    rig,
    seconds: 600,
    series: [
      series('temperature', 'Cel', [38, 30]),
      series('clock', 'Hz', [1.4e9, 3e9]),
      series('power', 'W', [7, 60]),
    ],
    runs,
    gaps: [{ fromSeconds: 300, toSeconds: 360 }],
  };
}

/** Numerical Recipes' linear congruential generator: quick and the same everywhere. */
function generator(seed: number): () => number {
  let state = seed;
  return () => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
    return state / 2 ** 32;
  };
}
