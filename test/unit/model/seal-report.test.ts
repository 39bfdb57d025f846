import { describe, expect, it } from 'vitest';
import { againstFigures, type SealFinding } from '../../../src/model/seal-report.ts';
import { renderSealReport } from '../../../src/report/seal-page.ts';

const log: SealFinding = {
  kind: 'unreadable',
  path: 'data/logs/0000-one.stdout.txt',
  detail: 'not permitted; ask whoever measured',
};
const journal: SealFinding = { ...log, path: 'data/runs.jsonl' };
const changedLog: SealFinding = { ...log, kind: 'damaged', detail: 'its SHA-512 is another' };

function render(findings: readonly SealFinding[]): string {
  return renderSealReport({
    folder: 'f',
    sealed: true,
    invented: false,
    checkedFiles: 9,
    findings,
  });
}

describe('files of a seal that may not be read', () => {
  it('say nothing against figures where they are logs, but do elsewhere, as changed logs do', () => {
    expect(againstFigures([log, journal, changedLog])).toEqual([journal, changedLog]);
  });

  it('are not called changed, unless another file is', () => {
    expect(render([log])).toBe(
      'f: NOT COMPARED as a whole\n  unreadable: data/logs/0000-one.stdout.txt: not permitted; ask whoever measured',
    );
    expect(render([log, changedLog])).toContain('f: CHANGED since it was sealed');
  });
});
