import { spawnSync } from 'node:child_process';
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { temporaryFolder } from '../setup/temporary-folder.ts';

const script = fileURLToPath(new URL('../audit.mjs', import.meta.url));

/** The script with an npm that prints this; the forms are those of npm 10 (`npm audit --json`), shortened, with invented names. */
function audit(printed: string, code = 0): { readonly code: number | null; readonly told: string } {
  const folder = temporaryFolder();
  writeFileSync(join(folder, 'printed'), `${printed}\n`);
  writeFileSync(
    join(folder, 'npm'),
    `#!/bin/sh\nwhile read -r line; do printf '%s\\n' "$line"; done <'${folder}/printed'\nexit ${code}\n`,
    { mode: 0o755 },
  );
  const { status, stderr } = spawnSync(process.execPath, [script], {
    encoding: 'utf8',
    env: { PATH: folder },
  });
  return { code: status, told: stderr };
}

function report(high: number, critical: number): string {
  const weakness = (name: string, severity: string) => [name, { name, severity, range: '<2.0.1' }];
  const vulnerabilities = Object.fromEntries([
    weakness('example-mild', 'moderate'),
    ...Array.from({ length: high }, (_, index) => weakness(`example-high-${index}`, 'high')),
    ...Array.from({ length: critical }, (_, index) => weakness(`example-bad-${index}`, 'critical')),
  ]);
  const counts = { info: 0, low: 0, moderate: 1, high, critical, total: 1 + high + critical };
  return `${JSON.stringify({ auditReportVersion: 2, vulnerabilities, metadata: { vulnerabilities: counts } })}\n`;
}

describe('the audit of dependencies in CI', () => {
  it('passes where none is high, whatever the exit code', () => {
    expect(audit(report(0, 0), 1)).toEqual({
      code: 0,
      told: expect.stringContaining('no high or critical weakness is known'),
    });
  });

  it('fails for a high and for a critical one, and names them but not the mild', () => {
    const high = audit(report(1, 0), 1);
    expect(high).toMatchObject({ code: 1 });
    expect(high.told).toContain('example-high-0 <2.0.1: high');
    expect(high.told).not.toContain('example-mild');
    expect(audit(report(0, 1), 1)).toMatchObject({ code: 1 });
  });

  it('tells, and passes, where the registry has no such list or does not answer', () => {
    const refused = {
      message: '405 Method Not Allowed - POST https://registry.example/-/npm/v1/bulk',
      statusCode: 405,
      error: { summary: '', detail: '' },
    };
    expect(audit(JSON.stringify(refused), 1)).toEqual({
      code: 0,
      told: 'the registry did not tell of weaknesses: 405 Method Not Allowed - POST (address left out)\n',
    });
    const unreached = { error: { code: 'ENOTFOUND', summary: 'request failed', detail: '' } };
    expect(audit(JSON.stringify(unreached), 1)).toMatchObject({
      code: 0,
      told: expect.stringContaining('request failed'),
    });
  });

  it.each(['', 'not JSON', '[]', 'null', '{"metadata":{"vulnerabilities":{"high":"0"}}}'])(
    'takes %j for no answer',
    (printed) => {
      expect(audit(printed, 1)).toMatchObject({
        code: 0,
        told: expect.stringContaining('did not tell'),
      });
    },
  );
});
