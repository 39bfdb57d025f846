import { cpSync, existsSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it, vi } from 'vitest';
import type { SittingOptions } from '../../src/api/options.ts';
import { runSitting, type SittingOutcome } from '../../src/api/run-sitting.ts';
import type { SittingEvent } from '../../src/model/event.ts';
import { shippedCatalog } from '../../src/model/shipped-catalog.ts';
import { renderSitting } from '../../src/report/sitting-page.ts';
import { summarizeSitting } from '../../src/stats/summarize-sitting.ts';
import { loadSuite } from '../../src/suite/load.ts';
import { type DrivenClock, drivenClock } from '../setup/driven-clock.ts';
import { temporaryFolder } from '../setup/temporary-folder.ts';
import { unwrap } from '../setup/unwrap.ts';

const rig = fileURLToPath(new URL('../fixtures/rigs/desktop-coretemp', import.meta.url));
const sensor = 'sys/devices/platform/coretemp.0/hwmon/hwmon2/temp1_input';

/** A rig of its own whose processor (critical at 100 °C) is as hot as its file says, for the test and for workloads. */
function makeRig(celsius: number) {
  const folder = temporaryFolder();
  const root = join(folder, 'root');
  cpSync(rig, root, { recursive: true, verbatimSymlinks: true });
  const file = join(root, sensor);
  const set = (now: number): void => writeFileSync(file, `${now * 1000}\n`);
  set(celsius);
  return {
    ...{ folder, root, file, set },
    get: (): number => Number(readFileSync(file, 'utf8')) / 1000,
    unplug: (): void => rmSync(file),
  };
}
type Rig = ReturnType<typeof makeRig>;

function writeSuite(
  { folder }: Rig,
  keys: string,
  lines: Readonly<Record<string, string>>,
): string {
  const path = join(folder, 'harbour.yaml');
  const workloads = Object.entries(lines).map(
    ([id, line]) =>
      `  - { id: ${id}, kind: command, argv: [/bin/sh, -c, ${JSON.stringify(line)}] }\n`,
  );
  const head = 'suite: harbour\ntitle: Harbour Lane (invented)\nwarm-ups: 0\norder: as-written\n';
  writeFileSync(path, `${head}${keys}workloads:\n${workloads.join('')}`);
  return path;
}

interface Begun {
  readonly events: SittingEvent[];
  readonly notices: () => string[];
  readonly results: string;
  readonly ended: Promise<SittingOutcome>;
}

async function begin(
  { folder, root }: Rig,
  suite: string,
  more: Partial<SittingOptions> = {},
): Promise<Begun> {
  const events: SittingEvent[] = [];
  const results = join(folder, 'results');
  const loaded = unwrap(await loadSuite(suite, shippedCatalog));
  const { onEvent } = more;
  const ended = runSitting(loaded, {
    ...{ rig: 'bench-a', results, root, cache: join(folder, 'cache') },
    ...more,
    onEvent: (event) => {
      events.push(event);
      onEvent?.(event);
    },
  }).then(unwrap);
  const notices = (): string[] =>
    events.flatMap((event) => (event.type === 'notice' ? [event.message] : []));
  return { events, notices, results, ended };
}

/** Lets second after second pass, `each` time waiting for the sample of it, until the sitting has ended. */
async function drive(begun: Begun, clock: DrivenClock, each: () => void): Promise<SittingOutcome> {
  let isOver = false;
  void begun.ended.finally(() => {
    isOver = true;
  });
  const soon = { timeout: 20_000, interval: 2 };
  let seen = -1;
  while (!isOver) {
    // Before its start nothing is sampled that could be kept up with.
    const hasStarted = begun.events.some(({ type }) => type === 'sitting-started');
    const isDue = (): boolean => isOver || !hasStarted || lastSampleAt(begun.results) > seen;
    await vi.waitFor(() => expect(isDue()).toBe(true), soon);
    seen = lastSampleAt(begun.results);
    each();
    await clock.pass(1);
  }
  return begun.ended;
}

/** Below zero while there is none. */
function lastSampleAt(results: string): number {
  const [id] = existsSync(results) ? readdirSync(results) : [];
  const path = join(results, id ?? '', 'data/telemetry.jsonl');
  if (id === undefined || !existsSync(path)) return -1;
  const line = readFileSync(path, 'utf8').trimEnd().split('\n').at(-1) ?? '';
  return /"atSeconds":([\d.]+)/.test(line) ? Number(RegExp.$1) : -1;
}

describe('a rig that gets hot', () => {
  it('has its runs ended at the limit, waits to cool, and ends the sitting at the second', async () => {
    const rig = makeRig(45);
    const begunFile = join(rig.folder, 'begun');
    const heat = `echo $$ > ${begunFile}; sleep 600 & wait`;
    const suite = writeSuite(rig, 'repeats: 2\ncooldown: 0 s\n', { heat, calm: 'true' });
    const begun = await begin(rig, suite);
    const heatUp = async (): Promise<void> => {
      await vi.waitFor(() => expect(existsSync(begunFile)).toBe(true), { timeout: 20_000 });
      rmSync(begunFile);
      rig.set(96);
    };
    await heatUp();
    await vi.waitFor(() => expect(begun.notices().length).toBe(1), { timeout: 20_000 });
    rig.set(60);
    await heatUp();
    const { state, sitting, runs } = await begun.ended;
    expect(state).toBe('interrupted');
    expect(sitting.interruptions).toMatchObject([{ cause: 'temperature-limit', runs: 3 }]);
    expect(runs.map(({ workload, outcome }) => [workload, outcome])).toEqual([
      ['heat', 'failed'],
      ['calm', 'ok'],
      ['heat', 'failed'],
    ]);
    for (const run of [runs[0], runs[2]]) {
      expect(run?.stopped).toEqual({ cause: 'temperature-limit', forced: false });
      expect(run?.failure?.code).toBe('temperature-limit');
      expect(run?.failure?.message).toContain(
        'reached 96 °C; its limit is 95 °C, 5 K below what its sensor calls critical',
      );
    }
    expect(runs[1]?.cooldown).toMatchObject({ ended: 'time-passed', celsius: 60 });
    expect(begun.notices()).toEqual([
      expect.stringContaining('TOO HOT: the processor is at 96 °C, its limit is 95 °C'),
      expect.stringContaining(
        'TOO HOT: the processor reached its temperature limit in a second run',
      ),
    ]);
  });

  it('has a step of a scripted workload ended too', async () => {
    const rig = makeRig(45);
    const path = join(rig.folder, 'scripted.yaml');
    const step = `echo 91000 > ${rig.file}; sleep 600`;
    writeFileSync(
      path,
      `suite: scripted\ntitle: Steps\nwarm-ups: 0\nrepeats: 1\ntemperature-limit: 90 °C\nworkloads:\n  - id: steps\n    kind: scripted\n    steps:\n      - { id: warm, argv: ['true'] }\n      - { id: hot, argv: [sh, -c, ${JSON.stringify(step)}] }\n      - { id: never, argv: ['true'] }\n`,
    );
    const { runs, state } = await (await begin(rig, path)).ended;
    expect(state).toBe('complete');
    expect(runs[0]?.failure).toMatchObject({ code: 'temperature-limit' });
    expect(runs[0]?.failure?.message).toMatch(/^step hot: .*90 °C, the suite's limit/);
    expect(runs[0]?.steps?.map(({ id, stopped }) => [id, stopped?.cause])).toEqual([
      ['warm', undefined],
      ['hot', 'temperature-limit'],
    ]);
  });
});

describe('a cooldown by the temperature at rest', () => {
  const keys = 'repeats: 3\ncooldown: { within-of-idle: 3 K, without-sensor: 40 s }\n';

  it('lets every run begin alike, and the page shows it', async () => {
    const rig = makeRig(35);
    const clock = drivenClock();
    const suite = writeSuite(rig, keys, { heat: `echo 61000 > ${rig.file}` });
    const begun = await begin(rig, suite, { clock });
    const outcome = await drive(begun, clock, () => rig.set(Math.max(35, rig.get() - 2)));
    const { sitting, runs, folder } = outcome;
    expect(outcome.state).toBe('complete');
    expect(sitting.idleCelsius).toBe(35);
    const stored = JSON.parse(readFileSync(join(folder, 'data/sitting.json'), 'utf8'));
    expect(stored.idleCelsius).toBe(35);
    expect(runs.map(({ cooldown }) => cooldown?.ended)).toEqual([
      undefined,
      'temperature-reached',
      'temperature-reached',
    ]);
    for (const { telemetry, cooldown } of runs) {
      expect(telemetry?.startTemperature).toBeLessThanOrEqual(38);
      if (cooldown === null) continue;
      expect(cooldown.celsius).toBeLessThanOrEqual(38);
      expect(cooldown.seconds).toBeGreaterThan(2);
    }
    const facts = { ...outcome, sealed: true, tornBytes: 0 };
    const page = renderSitting(facts, summarizeSitting(sitting.suite.resolved, runs));
    expect(page).toContain('at rest   processor 35 °C');
    expect(page.replace(/\s+/g, ' ')).toContain('none above the 38 °C that cooldowns wait for');
    expect(begun.notices()[0]).toContain("learning the processor's temperature at rest");
  });

  it('goes on with the fixed wait when the sensor is unplugged, and says so once', async () => {
    const rig = makeRig(35);
    const clock = drivenClock();
    const suite = writeSuite(rig, keys, { calm: 'true' });
    const begun = await begin(rig, suite, {
      clock,
      onEvent: ({ type }) => {
        if (type === 'run-finished' && existsSync(rig.file)) rig.unplug();
      },
    });
    const { state, runs } = await drive(begun, clock, () => undefined);
    expect(state).toBe('complete');
    for (const { cooldown } of runs.slice(1)) {
      expect(cooldown).toMatchObject({ ended: 'sensor-missing', celsius: null });
      expect(cooldown?.seconds).toBeGreaterThanOrEqual(40);
      expect(cooldown?.seconds).toBeLessThan(43);
    }
    const told = begun.notices().filter((message) => message.includes('nothing tells'));
    expect(told).toEqual([
      "nothing tells the processor's temperature: cooldowns take 40 s instead",
    ]);
  });
});

describe('a limit that nothing can watch', () => {
  it('is told of once, and the suite runs', async () => {
    const rig = makeRig(50);
    const suite = writeSuite(rig, 'repeats: 2\ncooldown: 0 s\ntemperature-limit: 80 °C\n', {
      calm: 'true',
    });
    const begun = await begin(rig, suite, { telemetry: false });
    expect((await begun.ended).state).toBe('complete');
    expect(begun.notices()).toEqual([
      'the temperature limit of 80 °C is NOT watched: no sensor tells it',
    ]);
  });
});
