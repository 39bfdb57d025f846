import { describe, expect, it } from 'vitest';
import { scrubFinding } from '../../../src/api/describe-sitting.ts';

describe('a finding that is recorded', () => {
  it('has no home folder, user, host or address in it, whatever names programs and timers have', () => {
    const finding = {
      check: 'disk',
      severity: 'warn',
      workload: null,
      message: 'nearly full: /home/decoyuser/results; backup-decoyuser.timer, decoyhost, 192.0.2.7',
      remedy: 'ask decoyuser',
    } as const;
    const literals = [
      { text: 'decoyuser', placeholder: '<user>' },
      { text: 'decoyhost', placeholder: '<host>' },
    ];
    const recorded = scrubFinding(finding, literals);
    expect(JSON.stringify(recorded)).not.toMatch(/decoy|192\.0/);
    expect(recorded).toMatchObject({ check: 'disk', severity: 'warn', remedy: 'ask <user>' });
  });
});
