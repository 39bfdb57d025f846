import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { openSuite } from '../../src/api/open-suite.ts';
import { writeStudy } from '../../src/results/write-study.ts';
import { type Finished, startCli } from '../setup/cli.ts';
import { sampleStudy } from '../setup/samples.ts';
import { temporaryFolder } from '../setup/temporary-folder.ts';
import { unwrap } from '../setup/unwrap.ts';

const suite = `suite: harbour
title: Harbour Lane (invented)
cooldown: 0 s
difference-that-matters: 3 %
workloads: [{ id: pack, kind: command, argv: [/bin/true] }]
profiles: { short: { repeats: 2 } }
`;

const campaign = `campaign: harbour-boards
title: Boards and memory (invented)
question: Which?
suite: harbour.yaml
baseline: first-8
factors:
  board: { title: Board, levels: [first, second] }
  memory: { title: Memory, levels: [8 GiB, 16 GiB] }
rigs:
  first-8: { levels: { board: first, memory: 8 GiB } }
  second-8: { levels: { board: second, memory: 8 GiB } }
  first-16: { levels: { board: first, memory: 16 GiB } }
`;

/** A folder with the suite and a campaign. */
function folderWith(text: string): string {
  const folder = temporaryFolder();
  writeFileSync(join(folder, 'harbour.yaml'), suite);
  writeFileSync(join(folder, 'campaign.yaml'), text);
  return folder;
}

function check(folder: string, ...more: readonly string[]): Promise<Finished> {
  return startCli(['check', 'campaign.yaml', ...more], folder).finished;
}

describe('steadyrig check of a campaign', () => {
  it('ends with 0 where every question can be answered, on pages of 80 columns', async () => {
    const { code, stdout, stderr } = await check(folderWith(campaign));
    expect({ code, stderr }).toEqual({ code: 0, stderr: '' });
    expect(stdout).toContain('rig second-8 against the baseline: can be answered');
    expect(stdout).toContain('the rigs can answer every question');
    for (const line of stdout.split('\n')) expect(line.length).toBeLessThanOrEqual(80);
  });

  it('ends with 1 where one cannot, and says which rig would mend it', async () => {
    const folder = folderWith(`${campaign}questions: [{ interaction: [board, memory] }]\n`);
    const { code, stdout } = await check(folder);
    expect(code).toBe(1);
    expect(stdout.replaceAll(/\s+/g, ' ')).toContain(
      '→ add a rig with board second and memory 16 GiB (about',
    );
    const json = JSON.parse((await check(folder, '--json')).stdout);
    expect(json).toMatchObject({
      problems: [],
      check: {
        answers: [
          {
            answer: 'no',
            findings: [{ addition: { rigs: [{ board: 'second', memory: '16 GiB' }] } }],
          },
        ],
      },
    });
  });

  it('goes by a precision study of the same suite, its difference and its run times', async () => {
    const folder = folderWith(campaign);
    const { digest } = unwrap(await openSuite(join(folder, 'harbour.yaml'))).suite;
    await writeStudy(join(folder, 'results'), sampleStudy({ digest, rig: 'first-8' }));
    const { stdout } = await check(folder, '--json');
    const { answers, study, effort } = JSON.parse(stdout).check;
    expect(study).toEqual({ rig: 'first-8', at: '2026-02-01T08:00:00.000Z', sittings: 3 });
    // Five repeats and a warm-up of 20 s each, no cooldown.
    expect(effort).toMatchObject({ sittingSeconds: 120, basis: 'measured' });
    expect(answers[0].sight).toMatchObject({ workload: 'pack', metric: 'wall' });
    // sqrt(0.006² + 0.008²/5) × sqrt(2/3) = 0.0057; 80 % power with 6 degrees of freedom takes 3.27 of it.
    expect((await check(folder)).stdout).toContain('shows 1.9 % or more');
  });

  it.each([
    ['a key misspelt', campaign.replace('question:', 'qestion:'), /:3:1: unknown key `qestion`/],
    [
      'no such suite',
      campaign.replace('harbour.yaml', 'everday'),
      /:4:8: .*did you mean `everyday`/,
    ],
    [
      'no such profile',
      `${campaign}profile: shrt\n`,
      /:13:10: suite `harbour\.yaml` has no profile/,
    ],
    ['not even YAML', `${campaign}  - [`, /campaign\.yaml:\d+:\d+: /],
  ])('ends with 2 and the place: %s', async (_, text, message) => {
    const { code, stdout, stderr } = await check(folderWith(text));
    expect({ code, stdout }).toEqual({ code: 2, stdout: '' });
    expect(stderr).toMatch(message);
    expect(stderr).not.toMatch(/ at .*\.js:/);
  });

  it('tells the problems of the suite with their place in the suite', async () => {
    const folder = folderWith(campaign);
    writeFileSync(join(folder, 'harbour.yaml'), suite.replace('cooldown', 'cooldwn'));
    const { code, stderr } = await check(folder);
    expect(code).toBe(2);
    expect(stderr).toMatch(/harbour\.yaml:3:1: unknown key `cooldwn`; did you mean `cooldown`/);
  });

  it('takes no profile from the command line, since the campaign names it', async () => {
    const { code, stderr } = await check(folderWith(campaign), '--profile', 'short');
    expect(code).toBe(2);
    expect(stderr).toContain('option --profile: a campaign names the profile');
  });

  it('goes on where a study is damaged, and says which', async () => {
    const folder = folderWith(campaign);
    const path = await writeStudy(join(folder, 'results'), sampleStudy());
    writeFileSync(path, '{}\n');
    const { code, stdout, stderr } = await check(folder);
    expect(code).toBe(0);
    expect(stderr).toContain('not the study as it was written');
    expect(stdout).toContain('no-study');
  });
});
