import { describe, expect, it } from 'vitest';
import { detectDifference } from '../../../src/api/detect-difference.ts';
import { renderDetection } from '../../../src/report/detection-page.ts';
import { writeStudy } from '../../../src/results/write-study.ts';
import { expectGolden } from '../../setup/golden.ts';
import { sampleStudy, sampleSuite, sampleWorkload } from '../../setup/samples.ts';
import { temporaryFolder } from '../../setup/temporary-folder.ts';
import { unwrap } from '../../setup/unwrap.ts';

const options = (results: string, rig: string | null = 'bench-a') => ({
  ...{ results, rig, difference: 0.03, sittingSeconds: 600 },
});

describe('detectDifference', () => {
  it('goes by the newest study of the rig and suite, else by that of another rig', async () => {
    const results = temporaryFolder();
    const store = (rig: string, day: number, digest = 'a'): Promise<string> =>
      writeStudy(
        results,
        sampleStudy({ rig, at: `2026-02-0${day}T08:00:00.000Z`, digest: digest.repeat(64) }),
      );
    await store('bench-a', 1);
    await store('bench-a', 2);
    await store('bench-b', 3);
    await store('bench-a', 4, 'b');
    const studyOf = async (rig: string | null): Promise<unknown> =>
      unwrap(await detectDifference(sampleSuite(), options(results, rig))).detection.study;
    expect(await studyOf('bench-a')).toMatchObject({
      rig: 'bench-a',
      at: expect.stringMatching(/02-02/),
    });
    expect(await studyOf('bench-z')).toMatchObject({ rig: 'bench-b' });
    expect(await studyOf(null)).toMatchObject({ rig: 'bench-b' });
  });

  it('says which study to make where there is none', async () => {
    const none = await detectDifference(sampleSuite(), options(temporaryFolder()));
    expect(none).toMatchObject({
      error: [
        {
          code: 'not-comparable',
          message: expect.stringMatching(
            /three times.*steadyrig precision bench-a --suite harbour$/,
          ),
        },
      ],
    });
  });

  it('prints what each workload needs, alone and with the others', async () => {
    const results = temporaryFolder();
    const [pack] = sampleStudy().rows;
    if (pack === undefined) throw new Error('the sample has a row');
    const fine = { ...pack, workload: 'unpack', sr: 0.003, sb: 0.002, sbDf: 9 };
    const study = sampleStudy({
      rows: [pack, fine],
      times: ['pack', 'unpack'].map((workload) => ({
        workload,
        seconds: 20,
        cooldownSeconds: null,
      })),
      untold: [{ workload: 'size', metric: 'wall', reason: 'needs figures above zero; found 0' }],
    });
    await writeStudy(results, study);
    const workloads = ['unpack', 'size', 'new'].map((id) => sampleWorkload({ id }));
    const suite = sampleSuite({
      repeats: { kind: 'fixed', count: 5 },
      cooldown: { kind: 'fixed', seconds: 10 },
      workloads: [sampleWorkload(), ...workloads],
    });
    const { detection } = unwrap(await detectDifference(suite, options(results, 'bench-b')));
    expect(detection.untold).toMatchObject([
      { workload: 'size', reason: expect.stringMatching(/above zero/) },
      { workload: 'new', reason: 'the study has no figures of it' },
    ]);
    const text = renderDetection(detection, 'bench-b');
    for (const line of text.split('\n')) expect([...line].length).toBeLessThanOrEqual(80);
    expectGolden('detection.txt', `${text}\n`);
  });
});
