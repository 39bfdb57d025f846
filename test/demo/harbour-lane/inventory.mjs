const invented = 'invented';
const gibibyte = 2 ** 30;
const is = (value, unit = null) => ({ value, unit, source: invented });
const section = (readings, items = {}) => ({ readings, items });

const boards = {
  first: { name: 'Example Quay Q1', firmware: '1.20', date: '2025-05-06', updated: '1.31' },
  second: { name: 'Example Quay Q2', firmware: '2.04', date: '2025-06-11', updated: '2.04' },
};
const kits = {
  '2x8 GiB': { size: 8 * gibibyte, ranks: 1, partNumber: 'EXT-8G-3200' },
  '2x16 GiB': { size: 16 * gibibyte, ranks: 2, partNumber: 'EXT-16G-3200' },
};

/** What would be read from an invented rig: a board, a memory kit, and what all rigs have alike. */
export function inventoryOf({ board, memory }, isUpdated, takenAt) {
  const kit = kits[memory];
  return {
    schema: 'steadyrig/inventory/1',
    takenAt,
    seconds: 0.21,
    collectors: [{ name: 'invented', seconds: 0.21, failure: null }],
    sections: {
      cpu: processor(isUpdated ? '0x24' : '0x21'),
      memory: memorySection(kit),
      ...boardSections(boards[board], isUpdated),
      storage: storage(),
      ...settings(),
      ...software(),
    },
  };
}

function processor(microcode) {
  const cache = (level, type, kibibytes, sharedBy, instances) => ({
    level: is(level, '1'),
    type: is(type),
    size: is(kibibytes * 1024, 'By'),
    sharedBy: is(sharedBy, '1'),
    instances: is(instances, '1'),
  });
  return section(
    {
      model: is('Example Silicon E4 6-Core Processor (invented)'),
      vendor: is('ExampleSilicon'),
      sockets: is(1, '1'),
      cores: is(6, '1'),
      threads: is(12, '1'),
      family: is(91, '1'),
      modelNumber: is(17, '1'),
      stepping: is(1, '1'),
      microcode: is(microcode),
      cachesFound: is(3, '1'),
    },
    {
      caches: [
        cache(1, 'data', 32, 2, 6),
        cache(2, 'unified', 512, 2, 6),
        cache(3, 'unified', 16384, 12, 1),
      ],
    },
  );
}

function memorySection({ size, ranks, partNumber }) {
  const module = (locator) => ({
    locator: is(locator),
    size: is(size, 'By'),
    type: is('DDR4'),
    formFactor: is('DIMM'),
    configuredSpeed: is(3.2e9, '{transfers}/s'),
    ratedSpeed: is(3.2e9, '{transfers}/s'),
    ranks: is(ranks, '1'),
    manufacturer: is('Example Tide (invented)'),
    partNumber: is(partNumber),
  });
  // What the kernel keeps for itself.
  const total = 2 * size - 640 * 2 ** 20;
  return section(
    {
      total: is(total, 'By'),
      available: is(total - 1536 * 2 ** 20, 'By'),
      slots: is(4, '1'),
      modulesFound: is(2, '1'),
      swappiness: is(60, '1'),
      transparentHugePages: is('madvise'),
    },
    { modules: [module('DIMM A2'), module('DIMM B2')] },
  );
}

function boardSections({ name, firmware, date, updated }, isUpdated) {
  return {
    board: section({
      vendor: is('Example Quay Boards (invented)'),
      name: is(name),
      systemVendor: is('Harbour Lane (invented)'),
      systemName: is('Refurbished desktop'),
      chassis: is('desktop'),
    }),
    firmware: section({
      vendor: is('Example Firmware Ltd. (invented)'),
      version: is(isUpdated ? updated : firmware),
      date: is(isUpdated ? '2025-11-28' : date),
      interface: is('UEFI'),
    }),
  };
}

function storage() {
  const disk = {
    name: is('nvme0n1'),
    model: is('Example Storage NV-500 (invented)'),
    size: is(500_107_862_016, 'By'),
    transport: is('pcie'),
    rotational: is(false),
    removable: is(false),
    firmware: is('EX07'),
    scheduler: is('none'),
    writeCache: is('write back'),
  };
  return section({ disksFound: is(1, '1') }, { disks: [disk] });
}

function settings() {
  const policy = {
    cpus: is('0-11'),
    driver: is('acpi-cpufreq'),
    governor: is('performance'),
    hardwareMin: is(1.4e9, 'Hz'),
    hardwareMax: is(4.6e9, 'Hz'),
    allowedMin: is(1.4e9, 'Hz'),
    allowedMax: is(4.6e9, 'Hz'),
  };
  return {
    frequency: section(
      {
        drivers: is('acpi-cpufreq'),
        governors: is('performance'),
        boost: is(true),
        idleDriver: is('acpi_idle'),
        idleGovernor: is('menu'),
        policiesFound: is(1, '1'),
      },
      { policies: [policy] },
    ),
    power: section({ suppliesFound: is(0, '1'), limitsFound: is(0, '1') }),
    topology: section({
      smtActive: is(true),
      smtControl: is('on'),
      onlineCpus: is('0-11'),
      onlineCount: is(12, '1'),
      usableCpus: is('0-11'),
      usableCount: is(12, '1'),
    }),
  };
}

function software() {
  return {
    os: section({
      name: is('Example Linux (invented)'),
      version: is('12'),
      kernel: is('6.12.9-example'),
      kernelBuild: is('#1 SMP PREEMPT_DYNAMIC Mon, 5 Jan 2026 09:12:44 +0000'),
      architecture: is('x86_64'),
      commandLine: is('ro quiet'),
      tainted: is(0, '1'),
      clockSource: is('tsc'),
      clockSources: is(['tsc', 'hpet', 'acpi_pm']),
      addressRandomisation: is(2, '1'),
    }),
    virtualization: section({ hypervisor: is(false), container: is(false) }),
    tools: section({
      node: is('20.20.2'),
      v8: is('11.3.244.8-node.33'),
      openssl: is('3.0.17'),
      zlib: is('1.3.0.1'),
      brotli: is('1.1.0'),
      uv: is('1.46.0'),
    }),
  };
}
