/**
 * What follows from a factor that the operator declares, by the words in the factor's name: beginnings of paths. Settings that
 * a person or a package chooses (governor, driver version, kernel, scheduler) follow from no part.
 */
const follows: Readonly<Record<string, readonly string[]>> = {
  memory: ['memory.total', 'memory.modules', 'memory.errorCorrection', 'topology.nodes.memory'],
  board: [
    'board.',
    'firmware.',
    'memory.slots',
    'memory.modules.locator',
    'memory.modules.bank',
    'pcie.',
    'power.limits',
  ],
  processor: [
    'cpu.',
    'topology.performanceCpus',
    'topology.efficiencyCpus',
    'topology.online',
    'topology.usable',
    'topology.nodes',
    'mitigations.',
    'power.limits',
    'frequency.drivers',
    'frequency.preferredCores',
    'frequency.policies.driver',
    'frequency.policies.cpus',
    'frequency.policies.hardware',
    'frequency.policies.base',
    'frequency.policies.allowed',
    'frequency.policiesFound',
  ],
  graphics: ['graphics.', 'pcie.'],
  storage: ['storage.', 'pcie.'],
  firmware: ['firmware.', 'cpu.microcode', 'memory.modules.configured', 'power.limits'],
  microcode: ['cpu.microcode', 'mitigations.'],
  kernel: ['os.kernel'],
  system: ['os.', 'tools.'],
  driver: ['graphics.devices.driver'],
  governor: [
    'frequency.governors',
    'frequency.energyPreferences',
    'frequency.policies.governor',
    'frequency.policies.energyPreference',
  ],
  power: ['power.', 'frequency.platformProfile', 'graphics.devices.powerLimit'],
  smt: [
    'topology.smt',
    'topology.online',
    'topology.usable',
    'cpu.threads',
    'cpu.caches.sharedBy',
    'frequency.policies',
    'mitigations.',
  ],
  mitigations: ['mitigations.', 'os.commandLine'],
  runtime: ['tools.'],
  program: ['program.'],
  ambient: ['conditions.ambient'],
};

const otherWords: Readonly<Record<string, string>> = {
  ram: 'memory',
  dimm: 'memory',
  dimms: 'memory',
  mainboard: 'board',
  motherboard: 'board',
  cpu: 'processor',
  gpu: 'graphics',
  disk: 'storage',
  disks: 'storage',
  ssd: 'storage',
  drive: 'storage',
  bios: 'firmware',
  uefi: 'firmware',
  os: 'system',
  distribution: 'system',
  node: 'runtime',
  compiler: 'program',
  software: 'program',
  room: 'ambient',
};

/** Of parts, yet chosen by whoever set the rig up: only a factor of their own covers them. */
const chosen: readonly string[] = [
  'graphics.devices.driver',
  'graphics.devices.performanceLevel',
  'storage.disks.scheduler',
  'storage.disks.writeCache',
];

/** True when a difference follows from one of the factors whose levels differ; a factor may also be the path itself. */
export function isDeclared(path: string, factors: readonly string[]): boolean {
  return factors.some((factor) => {
    if (path === `levels.${factor}` || path === factor) return true;
    return topicsOf(factor).some((topic) => {
      const covered = follows[topic] ?? [];
      if (!startsWithAny(path, covered)) return false;
      return !startsWithAny(path, chosen) || topic === 'driver';
    });
  });
}

function startsWithAny(path: string, beginnings: readonly string[]): boolean {
  return beginnings.some((beginning) => path.startsWith(beginning));
}

function topicsOf(factor: string): readonly string[] {
  const words = factor.toLowerCase().split(/[^a-z]+/);
  return words
    .map((word) => (Object.hasOwn(otherWords, word) ? (otherWords[word] ?? word) : word))
    .filter((word) => Object.hasOwn(follows, word));
}
