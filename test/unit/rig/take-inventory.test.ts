import { availableParallelism, cpus, release, totalmem } from 'node:os';
import { Ajv2020 } from 'ajv/dist/2020.js';
import { afterEach, describe, expect, it, vi } from 'vitest';
import { z } from 'zod';
import { absenceReasons } from '../../../src/model/inventory.ts';
import { catalogEntry, inventoryCatalog } from '../../../src/model/inventory-catalog.ts';
import { inventorySchemaDefinition } from '../../../src/model/schemas/inventory-schema.ts';
import { allCollectors } from '../../../src/rig/collectors/all.ts';
import { rigFiles } from '../../../src/rig/rig-files.ts';
import { takeInventory } from '../../../src/rig/take-inventory.ts';
import { failingFiles, memoryFiles, systemError } from './memory-files.ts';
import { allReadings, inventoryOf, readingAt, rigNames, rigRoot, valueAt } from './rigs.ts';

afterEach(() => {
  vi.useRealTimers();
});

describe('the inventory of the rig with coretemp and intel_pstate', () => {
  it('tells what a tester looks for first', async () => {
    const inventory = await inventoryOf('desktop-coretemp');
    expect(
      Object.fromEntries(
        [
          'cpu.model',
          'cpu.cores',
          'cpu.threads',
          'cpu.microcode',
          'topology.performanceCpus',
          'topology.efficiencyCpus',
          'topology.smtActive',
          'frequency.drivers',
          'frequency.governors',
          'frequency.boost',
          'frequency.driverMode',
          'frequency.platformProfile',
          'memory.total',
          'memory.slots',
          'memory.modulesFound',
          'board.name',
          'board.systemName',
          'firmware.date',
          'os.clockSource',
          'os.taintReasons',
          'virtualization.hypervisor',
          'virtualization.cpuLimit',
        ].map((path) => [path, valueAt(inventory, path)]),
      ),
    ).toEqual({
      'cpu.model': 'Example Silicon E4-8H',
      'cpu.cores': 8,
      'cpu.threads': 12,
      'cpu.microcode': '0x2a',
      'topology.performanceCpus': '0-7',
      'topology.efficiencyCpus': '8-11',
      'topology.smtActive': true,
      'frequency.drivers': ['intel_pstate'],
      'frequency.governors': ['powersave'],
      'frequency.boost': true,
      'frequency.driverMode': 'active',
      'frequency.platformProfile': 'balanced',
      'memory.total': 32_654_908 * 1024,
      'memory.slots': 4,
      'memory.modulesFound': 2,
      'board.name': 'EB-Z1 Harbour',
      'board.systemName': null,
      'firmware.date': '2024-03-18',
      'os.clockSource': 'tsc',
      'os.taintReasons': ['module built outside the kernel'],
      'virtualization.hypervisor': false,
      'virtualization.cpuLimit': null,
    });
  });

  it('groups clock policies that are set alike: one for each kind of core', async () => {
    const inventory = await inventoryOf('desktop-coretemp');
    const policies = inventory.sections['frequency']?.items['policies'] ?? [];
    expect(
      policies.map((policy) => [
        policy['cpus']?.value,
        policy['hardwareMax']?.value,
        policy['base']?.value,
        policy['highestNow']?.value,
      ]),
    ).toEqual([
      ['0-7', 5e9, 3.6e9, 4_991_007_000],
      ['8-11', 3.9e9, 2.7e9, 3_899_991_000],
    ]);
  });

  it('gives the power limits in watts and seconds', async () => {
    const inventory = await inventoryOf('desktop-coretemp');
    expect(readingAt(inventory, 'power.limits.0.limit')).toEqual({
      value: 125,
      unit: 'W',
      source: '/sys/class/powercap/intel-rapl:0/constraint_0_power_limit_uw',
    });
    expect(valueAt(inventory, 'power.limits.1.window')).toBe(0.00244);
    expect(readingAt(inventory, 'power.limits.2.limit')).toMatchObject({ absent: 'not-set' });
  });

  it('does not take the battery of a mouse for a supply of the rig', async () => {
    const inventory = await inventoryOf('desktop-coretemp');
    expect(inventory.sections['power']?.items['supplies']).toEqual([]);
    expect(readingAt(inventory, 'power.mains')).toMatchObject({ absent: 'not-reported' });
  });
});

describe('the inventory of the rig with k10temp and amd_pstate', () => {
  it('finds memory that runs slower than it is rated', async () => {
    const inventory = await inventoryOf('desktop-k10temp');
    expect(inventory.sections['memory']?.items['modules']).toHaveLength(2);
    expect(valueAt(inventory, 'memory.modules.0.configuredSpeed')).toBe(4.8e9);
    expect(valueAt(inventory, 'memory.modules.0.ratedSpeed')).toBe(6e9);
    expect(valueAt(inventory, 'memory.modules.0.ranks')).toBe(2);
    expect(readingAt(inventory, 'memory.modules.0.manufacturer')).toMatchObject({
      absent: 'not-reported',
    });
  });

  it('finds the narrow slot behind the bridge of a graphics card', async () => {
    const inventory = await inventoryOf('desktop-k10temp');
    expect(valueAt(inventory, 'pcie.devices.0.kind')).toBe('graphics');
    expect(valueAt(inventory, 'pcie.devices.0.currentWidth')).toBe(16);
    expect(valueAt(inventory, 'pcie.devices.0.pathWidth')).toBe(8);
    expect(valueAt(inventory, 'pcie.devices.0.pathSpeed')).toBe(16e9);
  });

  it('tells the graphics card with memory, limits and the name of its ids', async () => {
    const inventory = await inventoryOf('desktop-k10temp');
    expect(inventory.sections['graphics']?.items['devices']).toHaveLength(1);
    expect(valueAt(inventory, 'graphics.devices.0.name')).toBe('Example Vision V44 [Vision 44 XT]');
    expect(valueAt(inventory, 'graphics.devices.0.videoMemory')).toBe(16_368 * 2 ** 20);
    expect(valueAt(inventory, 'graphics.devices.0.powerLimit')).toBe(230);
    expect(valueAt(inventory, 'graphics.devices.0.defaultPowerLimit')).toBe(263);
    expect(valueAt(inventory, 'graphics.devices.0.maxClock')).toBe(2.6e9);
  });

  it('takes the tightest limit of all control groups above the process', async () => {
    const inventory = await inventoryOf('desktop-k10temp');
    expect(valueAt(inventory, 'virtualization.cpuLimit')).toBe(12);
    expect(valueAt(inventory, 'virtualization.memoryLimit')).toBe(24 * 2 ** 30);
    // The mask names CPUs that could be plugged in later.
    expect(valueAt(inventory, 'topology.usableCpus')).toBe('0-15');
  });
});

describe.each(rigNames)('every inventory (%s)', (name) => {
  it('is valid by its zod definition and by the JSON Schema made from it', async () => {
    const inventory: unknown = JSON.parse(JSON.stringify(await inventoryOf(name)));
    expect(inventorySchemaDefinition.parse(inventory)).toEqual(inventory);
    const schema = z.toJSONSchema(inventorySchemaDefinition, { io: 'input' });
    const validate = new Ajv2020({ strict: false, validateFormats: false }).compile(schema);
    expect(validate(inventory), JSON.stringify(validate.errors)).toBe(true);
    expect(validate({ ...(inventory as object), extra: 1 })).toBe(false);
  });

  it('has every declared reading, with the unit of the catalog or a reason and a source', async () => {
    const inventory = await inventoryOf(name);
    expect(Object.keys(inventory.sections)).toEqual(Object.keys(inventoryCatalog));
    for (const [section, { readings }] of Object.entries(inventory.sections))
      expect(Object.keys(readings)).toEqual(Object.keys(inventoryCatalog[section]?.readings ?? {}));
    for (const [path, reading] of allReadings(inventory)) {
      expect(reading.source, path).not.toBe('');
      if (reading.value === null) expect(absenceReasons, path).toContain(reading.absent);
      else expect(reading.unit, path).toBe(catalogEntry(path)?.unit);
    }
  });

  it('is the same twice', async () => {
    const [first, second] = await Promise.all([inventoryOf(name), inventoryOf(name)]);
    expect(second.sections).toEqual(first.sections);
  });

  it('loses nothing that a collector reads to a name missing from the catalog', async () => {
    const context = { files: rigFiles(rigRoot(name)), versions: { node: '20.0.0' } };
    for (const collector of allCollectors) {
      const { readings, items } = await collector.collect(context);
      const paths = [
        ...Object.keys(readings),
        ...Object.entries(items).flatMap(([list, parts]) =>
          parts.flatMap((item) => Object.keys(item).map((field) => `${list}.${field}`)),
        ),
      ];
      for (const path of paths)
        expect(
          catalogEntry(`${collector.name}.${path}`),
          `${collector.name}.${path}`,
        ).not.toBeNull();
    }
  });
});

describe('a rig that does not answer', () => {
  const codes = {
    ENOENT: 'no-such-file',
    ENOTDIR: 'no-such-file',
    EACCES: 'not-permitted',
    EPERM: 'not-permitted',
    EOPNOTSUPP: 'not-supported',
    ENODATA: 'not-supported',
    ENXIO: 'not-supported',
    EIO: 'unreadable',
    EAGAIN: 'unreadable',
    EFBIG: 'unreadable',
  };

  it.each(Object.entries(codes))('tells %s as %s', async (code, reason) => {
    const files = failingFiles(
      rigFiles(rigRoot('desktop-coretemp')),
      /bios_version|meminfo|smt\/control/,
      systemError(code),
    );
    const inventory = await inventoryOf('desktop-coretemp', { files });
    for (const path of ['firmware.version', 'memory.total', 'topology.smtControl'])
      expect(readingAt(inventory, path), path).toMatchObject({ value: null, absent: reason });
    expect(valueAt(inventory, 'firmware.vendor')).toBe('Example Firmware Ltd.');
    expect(inventory.collectors.every(({ failure }) => failure === null)).toBe(true);
  });

  it('tells nonsense as unreadable', async () => {
    const files = memoryFiles({
      '/proc/meminfo': 'MemTotal: lots\n',
      '/proc/sys/vm/swappiness': '6O\n',
      '/sys/devices/system/cpu/smt/active': 'maybe\n',
      '/sys/devices/system/cpu/online': '0-x\n',
    });
    const inventory = await inventoryOf('desktop-coretemp', { files });
    for (const path of [
      'memory.total',
      'memory.swappiness',
      'topology.smtActive',
      'topology.onlineCpus',
    ])
      expect(readingAt(inventory, path), path).toMatchObject({ absent: 'unreadable' });
    expect(readingAt(inventory, 'memory.available')).toMatchObject({ absent: 'not-reported' });
  });

  it('has an inventory even where there is not one file', async () => {
    const inventory = await inventoryOf('desktop-coretemp', { files: memoryFiles({}) });
    expect(inventory.collectors.filter(({ failure }) => failure !== null)).toEqual([]);
    const known = allReadings(inventory).filter(([, reading]) => reading.value !== null);
    expect(known.map(([path]) => path.split('.')[0])).toEqual(Array(6).fill('tools'));
  });

  it('reports a collector that fails, without the text of the error, and has the rest', async () => {
    const collectors = allCollectors.map((collector) =>
      collector.name === 'memory'
        ? {
            ...collector,
            collect: () => Promise.reject(new TypeError('cannot read /home/decoyuser')),
          }
        : collector,
    );
    const inventory = await inventoryOf('desktop-coretemp', { collectors });
    expect(inventory.collectors.find(({ name }) => name === 'memory')?.failure).toBe(
      'failed: TypeError',
    );
    expect(readingAt(inventory, 'memory.total')).toEqual({
      value: null,
      absent: 'unreadable',
      source: 'collector memory',
    });
    expect(valueAt(inventory, 'cpu.cores')).toBe(8);
  });

  it('leaves a collector behind that hangs', async () => {
    vi.useFakeTimers({ toFake: ['setTimeout', 'clearTimeout'] });
    const files = rigFiles(rigRoot('desktop-coretemp'));
    let hung = () => {};
    const hanging = new Promise<void>((resolve) => {
      hung = resolve;
    });
    const taken = inventoryOf('desktop-coretemp', {
      files: {
        ...files,
        readText: (path) => {
          if (!path.includes('/sys/block')) return files.readText(path);
          hung();
          return new Promise(() => {});
        },
      },
      collectors: allCollectors.filter(({ name }) => name === 'storage' || name === 'tools'),
    });
    await hanging;
    await vi.advanceTimersByTimeAsync(60_000);
    const inventory = await taken;
    expect(inventory.collectors.map(({ name, failure }) => [name, failure])).toEqual([
      ['storage', 'did not finish within 60 s'],
      ['tools', null],
    ]);
    expect(readingAt(inventory, 'storage.disksFound')).toMatchObject({ absent: 'unreadable' });
  });

  it('rejects with the reason of an aborted signal', async () => {
    const signal = AbortSignal.abort(new Error('stopped by the operator'));
    await expect(inventoryOf('desktop-coretemp', { signal })).rejects.toThrow(
      'stopped by the operator',
    );
  });
});

describe('the inventory of this machine', () => {
  it('is complete, valid, and agrees with what Node asks the system', async () => {
    const inventory = await takeInventory({
      root: '/',
      now: () => new Date(),
      versions: process.versions,
      collectorLimitSeconds: 60,
      libraryLimitSeconds: 60,
    });
    expect(inventorySchemaDefinition.parse(inventory)).toEqual(inventory);
    for (const [path, reading] of allReadings(inventory))
      if (reading.value === null) expect(absenceReasons, path).toContain(reading.absent);
    expect(inventory.collectors.map(({ failure }) => failure)).toEqual(
      inventory.collectors.map(() => null),
    );
    expect(valueAt(inventory, 'tools.node')).toBe(process.versions.node);
    if (process.platform !== 'linux') return;
    expect(valueAt(inventory, 'memory.total')).toBe(totalmem());
    expect(valueAt(inventory, 'os.kernel')).toBe(release());
    expect(valueAt(inventory, 'topology.onlineCount')).toBe(cpus().length);
    expect(valueAt(inventory, 'topology.usableCount')).toBeGreaterThanOrEqual(
      Math.min(availableParallelism(), cpus().length),
    );
  });

  it('is not asked of the library where another root is read', async () => {
    const inventory = await inventoryOf('desktop-coretemp', { systemInformation: true });
    expect(inventory.collectors.map(({ name }) => name)).not.toContain('systeminformation');
  });
});
