import { compareRigs } from '../../src/compare/compare-rigs.ts';
import { factorEffects } from '../../src/compare/effects/factor-effects.ts';
import { rigFigures } from '../../src/compare/figures/rig-figures.ts';
import type { ComparedRig } from '../../src/model/comparison-request.ts';
import { type Report, reportSchema, type SittingCourse } from '../../src/model/report.ts';
import { sampleFigures, sampleMetric, sampleWorkloadFigures } from './figures.ts';
import { unwrap } from './unwrap.ts';

export interface SampleSize {
  readonly rigs?: number;
  readonly workloads?: number;
  readonly sittings?: number;
  readonly repeats?: number;
  readonly courses?: boolean;
}

/** An invented report of the Harbour Lane co-op, figured out by the real engine from seeded values: better, worse and undecided rows, an excluded run. */
export function sampleReport(size: SampleSize = {}): Report {
  const { rigs: count = 4, workloads = 6, sittings = 3, repeats = 5, courses = true } = size;
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
    courses: courses
      ? rigs.flatMap(({ label, sittings: own }) => own.map(({ id }) => sampleCourse(label, id)))
      : [],
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

function sampleCourse(rig: string, sitting: string): SittingCourse {
  const points = Array.from({ length: 60 }, (_, at) => ({
    atSeconds: at * 10,
    mean: 40 + (at % 20),
    low: 39 + (at % 20),
    high: 42 + (at % 20),
  }));
  return {
    sitting,
    rig,
    seconds: 600,
    series: [{ kind: 'temperature', label: 'processor', unit: 'Cel', points }],
    runs: [
      { workload: 'work-0', fromSeconds: 20, toSeconds: 60, isWarmUp: true, outcome: 'ok' },
      { workload: 'work-0', fromSeconds: 100, toSeconds: 160, isWarmUp: false, outcome: 'ok' },
    ],
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
