import { execFileSync } from 'node:child_process';
import { readdirSync, readFileSync } from 'node:fs';
import { createServer } from 'node:https';
import { join } from 'node:path';
import { Ajv2020 } from 'ajv/dist/2020.js';
import { afterEach, describe, expect, it, vi } from 'vitest';
import { runCli, startCli } from '../setup/cli.ts';
import { untilLogged, writeHarbour } from '../setup/command-suite.ts';
import {
  keepingRequests,
  listenLocally,
  localServer,
  type Received,
} from '../setup/local-server.ts';
import { needs } from '../setup/needs.ts';
import { temporaryFolder } from '../setup/temporary-folder.ts';

const openssl = needs.program('openssl');
const secret = 'Bearer invented-secret-4711';

afterEach(() => void vi.unstubAllEnvs());

function workingFolder(line = 'env; exit 0'): string {
  const cwd = temporaryFolder();
  const argv = `[/bin/sh, -c, ${JSON.stringify(line)}]`;
  writeHarbour(cwd, `  - { id: list, title: List, kind: command, argv: ${argv} }\n`, {
    'warm-ups': 0,
    limits: '{ time: 60 s, output: 1 MiB }',
  });
  return cwd;
}

const tellFile = (cwd: string): string =>
  JSON.stringify(['/bin/sh', '-c', `cat > ${join(cwd, 'told.json')}; env > ${join(cwd, 'env')}`]);
const toldIn = (cwd: string) => JSON.parse(readFileSync(join(cwd, 'told.json'), 'utf8'));

/** Everything that is in files below a folder. */
function allText(folder: string): string {
  return readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => readFileSync(join(entry.parentPath, entry.name), 'utf8'))
    .join('\n');
}

describe('the end of a sitting', () => {
  it('is told to a command and an address after the seal; the secret is in no file and no program', async () => {
    const cwd = workingFolder();
    vi.stubEnv('STEADYRIG_NOTIFY_AUTHORIZATION', secret);
    const sealedThen: boolean[] = [];
    const { url, received } = await localServer((_, __, response) => {
      const [id] = readdirSync(join(cwd, 'results'));
      sealedThen.push(readdirSync(join(cwd, 'results', id ?? '')).includes('bagit.txt'));
      response.end();
    });
    const notify = ['--notify-command', tellFile(cwd), '--notify-url', url.href];
    const run = await runCli(['run', 'harbour.yaml', '--log', 'log', ...notify], cwd);
    expect(run).toMatchObject({ code: 0, stderr: '' });
    expect(run.stdout).toContain('told /bin/sh of the end: done');
    expect(run.stdout).toContain(`told ${url.origin} of the end: answered 200`);
    expect(sealedThen).toEqual([true]);
    expect(received[0]?.headers.authorization).toBe(secret);
    const notice = JSON.parse(received[0]?.body ?? '');
    expect(toldIn(cwd)).toEqual(notice);
    expect(notice).toMatchObject({ outcome: 'complete', recordedRuns: 2, exitCode: 0 });
    expect(readdirSync(join(cwd, 'results'))).toEqual([notice.sitting]);
    const schema = JSON.parse((await runCli(['schema', 'notice'], cwd)).stdout);
    const validate = new Ajv2020({ strict: false, validateFormats: false }).compile(schema);
    expect(validate(notice), JSON.stringify(validate.errors)).toBe(true);
    expect(run.stdout + allText(cwd)).not.toContain('invented-secret');
    // The workload listed its environment into its log, the command into a file.
    expect(allText(cwd)).toContain('LC_ALL=C.UTF-8');
  });

  it('that cannot be told changes neither the sitting nor the exit code, and is said', async () => {
    const cwd = workingFolder();
    const { url } = await localServer((_, __, response) => response.writeHead(404).end());
    const command = '["/bin/sh", "-c", "exit 3"]';
    const notify = ['--notify-url', url.href, '--notify-command', command];
    const run = await runCli(['run', 'harbour.yaml', '--json', ...notify], cwd);
    expect(run.code).toBe(0);
    expect(JSON.parse(run.stdout)).toMatchObject({ state: 'complete' });
    expect(run.stderr).toContain('/bin/sh could not be told of the end: ended with exit code 3');
    expect(run.stderr).toContain(`${url.origin} could not be told of the end: answered 404`);
    expect(run.stderr).not.toContain('/told');
    expect((await runCli(['verify', 'latest'], cwd)).code).toBe(0);
  });

  it('is told when it is interrupted, and when nothing is measured since the rig is busy', async () => {
    const cwd = workingFolder('while :; do sleep 0.1; done');
    const log = join(cwd, 'log');
    const notify = ['--notify-command', tellFile(cwd)];
    const { child, finished } = startCli(['run', 'harbour.yaml', '--log', log, ...notify], cwd);
    await untilLogged(log, 'run-started');
    expect((await runCli(['run', 'harbour.yaml', ...notify], cwd)).code).toBe(3);
    expect(toldIn(cwd)).toMatchObject({
      outcome: 'refused',
      reason: 'busy',
      sitting: null,
      exitCode: 3,
    });
    child.kill('SIGINT');
    await untilLogged(log, 'stop-requested');
    child.kill('SIGINT');
    expect((await finished).code).toBe(4);
    expect(toldIn(cwd)).toMatchObject({ outcome: 'interrupted', exitCode: 4, recordedRuns: 1 });
  });

  it('is refused an address or a command that cannot be, before anything is measured', async () => {
    const cwd = workingFolder();
    for (const [option, value, why] of [
      ['--notify-url', 'http://desk.example/', 'https is needed'],
      ['--notify-command', 'no-such-program', 'was not found in PATH'],
    ] as const) {
      const run = await runCli(['run', 'harbour.yaml', option, value], cwd);
      expect(run.code).toBe(2);
      expect(run.stderr).toContain(why);
    }
    expect(readdirSync(cwd)).toEqual(['harbour.yaml']);
  });

  it.skipIf(openssl.missing)(
    'is told by https, to a server whose certificate is trusted only',
    async () => {
      const cwd = workingFolder();
      const [key, certificate] = [join(cwd, 'key.pem'), join(cwd, 'certificate.pem')];
      const subject = ['-subj', '/CN=localhost', '-addext', 'subjectAltName=DNS:localhost'];
      const wanted = ['req', '-x509', '-newkey', 'rsa:2048', '-nodes', '-days', '2', ...subject];
      const files = ['-keyout', key, '-out', certificate];
      execFileSync(openssl.path, [...wanted, ...files], { stdio: 'ignore' });
      const received: Received[] = [];
      const answer = keepingRequests(received, (_, __, response) => response.end());
      const pair = { key: readFileSync(key), cert: readFileSync(certificate) };
      // The address, which may be secret, comes from the environment.
      const url = await listenLocally(createServer(pair, answer), 'https');
      vi.stubEnv('STEADYRIG_NOTIFY_URL', url.href);
      vi.stubEnv('NODE_EXTRA_CA_CERTS', certificate);
      const trusted = await runCli(['run', 'harbour.yaml'], cwd);
      expect(trusted).toMatchObject({ code: 0, stderr: '' });
      expect(received).toHaveLength(1);
      expect(trusted.stdout).toContain(`told ${url.origin} of the end: answered 200`);
      vi.stubEnv('NODE_EXTRA_CA_CERTS', undefined);
      const other = await runCli(['run', 'harbour.yaml'], cwd);
      expect(other.code).toBe(0);
      expect(other.stderr).toContain('no answer (DEPTH_ZERO_SELF_SIGNED_CERT)');
      expect(received).toHaveLength(1);
    },
  );
});
