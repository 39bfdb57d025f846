import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { scrubCommandLine } from '../../../src/rig/command-line.ts';
import { taintReasons } from '../../../src/rig/kernel-taint.ts';

describe('the kernel command line', () => {
  it('keeps what can change a measurement and counts the rest', () => {
    expect(
      scrubCommandLine(
        'BOOT_IMAGE=/vmlinuz root=UUID=7d1f0c52-6f0e-4c38-9a55-0f4d7a6b1c20 ro quiet mitigations=auto,nosmt isolcpus=2-5,8 nvidia_drm.modeset=1 ip=192.0.2.7\n',
      ),
    ).toEqual({
      kept: ['ro', 'quiet', 'mitigations=auto,nosmt', 'isolcpus=2-5,8', 'nvidia_drm.modeset=1'],
      leftOut: 3,
    });
  });

  it('takes a quoted value as one parameter', () => {
    expect(scrubCommandLine('licence="KEY mitigations=off 1" nosmt')).toEqual({
      kept: ['nosmt'],
      leftOut: 1,
    });
  });

  it('leaves out what is meant for the first process', () => {
    expect(scrubCommandLine('quiet -- nosmt --token=secret')).toEqual({
      kept: ['quiet'],
      leftOut: 2,
    });
  });

  it('drops an allowed name whose value is not of the usual kind', () => {
    expect(scrubCommandLine('mitigations=/home/somebody psi="a b"').kept).toEqual([]);
  });

  it('accounts for every parameter and keeps none whose name it does not know', () => {
    fc.assert(
      fc.property(fc.array(fc.stringMatching(/^[a-z._]{1,12}=[a-z0-9]{0,8}$/)), (words) => {
        const { kept, leftOut } = scrubCommandLine(words.join(' '));
        expect(kept.length + leftOut).toBe(words.length);
        for (const word of kept) expect(words).toContain(word);
      }),
    );
  });
});

describe('the taint of a kernel', () => {
  it('is told by the meaning of its bits', () => {
    // Bits 0, 9 and 12, letters P, W and O: tainted-kernels.rst, table of flags.
    expect(taintReasons(4609)).toEqual([
      'proprietary module',
      'kernel warning',
      'module built outside the kernel',
    ]);
    expect(taintReasons(0)).toEqual([]);
    expect(taintReasons(2 ** 25)).toEqual(['bit 25']);
  });
});
