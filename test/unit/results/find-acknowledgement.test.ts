import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import type { Acknowledgement } from '../../../src/model/sitting.ts';
import { findAcknowledgement } from '../../../src/results/find-acknowledgement.ts';
import { sittingOn, storeSitting } from '../../setup/sitting-folder.ts';
import { temporaryFolder } from '../../setup/temporary-folder.ts';

const given: Acknowledgement = { how: 'operator', at: '2026-01-03T20:15:00.000Z' };

describe('an earlier acknowledgement', () => {
  it('is that of the same rig label, with the time when it was given', async () => {
    const results = temporaryFolder();
    await storeSitting(results, sittingOn(3, 'bench-a', { cautions: given }));
    await storeSitting(results, sittingOn(4, 'bench-a', { cautions: null }));
    expect(await findAcknowledgement(results, 'bench-a')).toEqual({ how: 'earlier', at: given.at });
    expect(await findAcknowledgement(results, 'bench')).toBeNull();
    expect(await findAcknowledgement(results, 'a')).toBeNull();
  });

  it('is not there without a results folder, or when nobody was asked', async () => {
    const results = temporaryFolder();
    expect(await findAcknowledgement(join(results, 'none'), 'bench-a')).toBeNull();
    await storeSitting(results, sittingOn(3, 'bench-a', { cautions: null }));
    expect(await findAcknowledgement(results, 'bench-a')).toBeNull();
  });

  it('is not read from a sitting that cannot be read', async () => {
    const results = temporaryFolder();
    const folder = await storeSitting(results, sittingOn(3, 'bench-a', { cautions: given }));
    writeFileSync(join(folder, 'data/sitting.json'), '{"schema":"steadyrig/si');
    expect(await findAcknowledgement(results, 'bench-a')).toBeNull();
  });
});
