import { describe, expect, it } from 'vitest';
import { parseFigureRows } from '../../../../src/api/enter/figure-rows.ts';
import { type MatchedFigures, matchFigures } from '../../../../src/api/enter/match-figures.ts';
import type { Result } from '../../../../src/lib/result.ts';
import { formatProblem, type Problem } from '../../../../src/model/problem.ts';
import type { RunRecord } from '../../../../src/model/run.ts';
import { makePlan } from '../../../../src/plan/make-plan.ts';
import { renderFigureTemplate } from '../../../../src/report/missing-figures.ts';
import {
  sampleHandRun,
  sampleHandWorkload,
  sampleSitting,
  sampleSuite,
  sampleWorkload,
} from '../../../setup/samples.ts';
import { unwrap } from '../../../setup/unwrap.ts';

const delay = {
  id: 'delay',
  source: { kind: 'operator', factor: 1e-3, symbol: 'ms', least: null, most: 1 },
  unit: 's',
  better: 'lower',
} as const;
const [score] = sampleHandWorkload().metrics;
const suite = sampleSuite({
  repeats: { kind: 'fixed', count: 3 },
  warmUps: 1,
  workloads: [
    sampleHandWorkload(),
    sampleHandWorkload({ id: 'tour', metrics: [score, delay] }),
    sampleWorkload(),
  ],
});
const plan = makePlan(suite);
const sitting = sampleSitting({
  suite: { ...sampleSitting().suite, resolved: suite },
  plan,
  state: 'waiting',
});

function planIndex(workload: string, round: number): number {
  return plan.runs.findIndex(
    (run) => run.phase === 'repeat' && run.workload === workload && run.round === round,
  );
}

function match(
  text: string,
  standing: readonly RunRecord[] = [],
): Result<MatchedFigures, readonly Problem[]> {
  const rows = parseFigureRows(text, 'f.csv');
  return rows.ok ? matchFigures(rows.value, 'f.csv', sitting, standing) : rows;
}

function problemsOf(text: string, standing: readonly RunRecord[] = []): string[] {
  const matched = match(text, standing);
  return matched.ok ? [] : matched.error.map(formatProblem);
}

const head = 'workload,round,metric,value';

describe('a figure file', () => {
  it('adds whole runs in the order of the plan, in base units, whatever the order of its rows', () => {
    const { added, corrected } = unwrap(
      match(`${head},unit
tour,2,delay,1.5,
tour,1,score,4000,
reel,1,score,4120 points,
tour,2,score,4010,points
tour,1,delay,0.0012,s`),
    );
    expect(corrected).toEqual([]);
    expect(
      added.map((figures) =>
        figures.map(({ run, metric, value }) => [run.index, metric.id, value]),
      ),
    ).toEqual([
      [[planIndex('reel', 1), 'score', 4120]],
      [
        [planIndex('tour', 1), 'score', 4000],
        [planIndex('tour', 1), 'delay', 0.0012],
      ],
      [
        [planIndex('tour', 2), 'delay', 0.0015],
        [planIndex('tour', 2), 'score', 4010],
      ],
    ]);
  });

  it('may have its columns in any order, blanks, empty rows and a byte order mark', () => {
    const text =
      '\uFEFFreason, value ,metric,round,workload\r\n\r\n, 4120 ,score,1,reel\r\n,,,,\r\n';
    expect(unwrap(match(text)).added).toMatchObject([[{ value: 4120 }]]);
  });

  it('leaves out rows whose value is still empty', () => {
    const text = `${head}\nreel,1,score,\nreel,2,score,4120`;
    expect(unwrap(match(text)).added).toMatchObject([[{ run: { round: 2 } }]]);
  });

  it('is what the template becomes when it is filled in', () => {
    const missing = plan.runs.filter(({ workload }) => workload !== 'pack');
    const filled = renderFigureTemplate(suite, missing).replace(/,,(points|ms),/g, ',500,$1,');
    expect(unwrap(match(filled)).added).toHaveLength(6);
  });

  it('corrects a recorded figure by another value with a reason, and leaves an equal one alone', () => {
    const standing = [
      sampleHandRun(planIndex('reel', 1), 4120),
      sampleHandRun(planIndex('reel', 2), 4130),
    ];
    const text = `${head},reason\nreel,1,score,4210,swapped\nreel,2,score,4130,`;
    expect(unwrap(match(text, standing))).toMatchObject({
      added: [],
      corrected: [{ from: 4120, value: 4210, row: { reason: { text: 'swapped' } } }],
    });
  });

  it('tells all its problems at once, each with line and column', () => {
    const standing = [sampleHandRun(planIndex('reel', 1), 4120)];
    expect(
      problemsOf(
        `${head},unit,reason
reel,1,score,4210,,
rele,1,score,1,,
kitchen,1,score,1,,
pack,1,wall,1,,
reel,2,scoer,1,,
reel,2,fps,1,,
reel,4,score,1,,
reel,02,score,1,,
reel,2,score,"4,1",,
reel,2,score,-1,,
reel,2,score,1,s,
tour,1,delay,1 ms,ms,
tour,1,score,5,,
tour,1,score,6,,`,
        standing,
      ),
    ).toEqual([
      'f.csv:2:14: reel, round 1, score is recorded as 4120 points; to correct it, give a reason in the column reason',
      'f.csv:3:1: unknown workload "rele"; did you mean reel?',
      'f.csv:4:1: "kitchen" is no workload read by hand in this sitting; expected reel, tour',
      'f.csv:5:1: pack is measured, not read by hand: its figures cannot be entered',
      'f.csv:6:8: unknown metric "scoer"; did you mean score?',
      'f.csv:7:8: "fps" is no metric of reel; expected score',
      'f.csv:8:6: round "4" is not planned; expected 1 to 3',
      'f.csv:9:6: round "02" is not planned; expected 1 to 3',
      'f.csv:10:14: `4,1` holds a comma: write the decimal sign as a point, and nothing between thousands',
      'f.csv:11:14: -1 points is below the least that score can be, 0 points; check the reading',
      'f.csv:12:14: the unit `s` does not fit score, which is in `points`; type the number alone, or followed by points',
      'f.csv:13:14: the unit stands beside the value and in its own column; leave one out',
      'f.csv:15:1: tour, round 1, score is on line 14 already',
    ]);
  });

  it('with a run that lacks a figure is refused', () => {
    expect(problemsOf(`${head}\ntour,1,score,4000`)).toEqual([
      'f.csv:2:1: tour, round 1 has no figure for delay; a run is entered with all its figures',
    ]);
  });

  it.each([
    ['', 'f.csv: is empty; expected the heading workload,round,metric,value'],
    ['workload;round;metric;value\n', 'f.csv:1:1: the heading has no commas'],
    ['workload,round,metric,vlaue\n', 'f.csv:1:23: unknown column "vlaue"; did you mean value?'],
    [`${head},note\n`, 'f.csv:1:29: unknown column "note"; expected workload, round'],
    [`${head},value\n`, 'f.csv:1:29: the column value is there twice'],
    ['workload,round\n', 'f.csv:1:1: the heading has no column metric, value'],
    [`${head}\nreel,1,score,4,5\n`, 'f.csv:2:1: 5 values, expected 4 as in the heading; write'],
    [`${head},unit\nreel,1,score,4\n`, 'f.csv:2:1: 4 values, expected 5 as in the heading; end'],
    [`${head}\n"reel,1\n`, 'f.csv:2: a quotation mark is opened and never closed'],
  ])('in the wrong form is refused: %j', (text, message) => {
    expect(problemsOf(text)).toEqual([expect.stringContaining(message)]);
  });
});
