import type { PartId } from './parts.ts';
import type { Topic } from './topics.ts';

/**
 * How telling a difference is. `what`: another thing, or what is known to move figures by much. `how`: another setting or
 * make of it. `detail`: follows from others, or tells what is alike for measuring.
 */
export type Telling = 'what' | 'how' | 'detail';

/** What a difference in a reading means. */
export interface ReadingRule {
  readonly part: PartId;
  readonly telling: Telling;
  /** Declared factors that it follows from. Settings that a person or a package chooses follow from no part. */
  readonly follows: readonly Topic[];
}

type Rows = readonly (readonly [Telling, readonly Topic[], string])[];

/**
 * The rule of every reading that does not move by itself, and of the other facts of a sitting: which part it belongs to, how telling
 * it is, which declared factor covers it. Paths as in `catalogEntry`, apart by blanks; one that ends in `.` stands for all that begin so. Part
 * order and weights: common practice, no source.
 */
const table: Readonly<Record<PartId, Rows>> = {
  factors: [['what', [], 'levels.']],
  processor: [
    ['what', ['processor'], 'cpu.model cpu.vendor cpu.sockets cpu.cores'],
    ['what', ['processor', 'smt'], 'cpu.threads'],
    ['what', ['processor', 'firmware', 'microcode'], 'cpu.microcode'],
    ['how', ['processor'], 'cpu.stepping cpu.caches cpu.caches.size cpu.caches.instances'],
    ['detail', ['processor'], 'cpu.family cpu.modelNumber cpu.flags cpu.cachesFound'],
    ['detail', ['processor'], 'cpu.caches.level cpu.caches.type'],
    ['detail', ['processor', 'smt'], 'cpu.caches.sharedBy'],
  ],
  memory: [
    ['what', ['memory'], 'memory.total memory.modulesFound'],
    ['what', ['memory'], 'memory.modules.size memory.modules.type memory.modules.ranks'],
    ['what', ['memory', 'firmware'], 'memory.modules.configuredSpeed'],
    // Slots and banks tell how many channels are in use.
    ['what', ['memory', 'board'], 'memory.modules.locator memory.modules.bank'],
    ['how', ['memory'], 'memory.modules.ratedSpeed memory.errorCorrection'],
    ['how', ['memory'], 'memory.modules.manufacturer memory.modules.partNumber'],
    ['how', [], 'memory.transparentHugePages memory.hugePageDefragmentation memory.hugePages'],
    ['how', [], 'memory.swapTotal memory.swappiness memory.compressedSwap'],
    ['detail', ['memory', 'firmware'], 'memory.modules.configuredVoltage'],
    ['detail', ['memory'], 'memory.modules.formFactor'],
    ['detail', ['board'], 'memory.slots'],
    ['detail', [], 'memory.hugePageSize'],
  ],
  graphics: [
    ['what', ['graphics'], 'graphics.devices.name graphics.devicesFound'],
    ['what', ['driver'], 'graphics.devices.driver graphics.devices.driverVersion'],
    ['what', ['graphics', 'power'], 'graphics.devices.powerLimit'],
    ['what', ['graphics'], 'graphics.devices.videoMemory graphics.devices.firmware'],
    ['how', [], 'graphics.devices.performanceLevel'],
    ['how', ['graphics'], 'graphics.devices.visibleVideoMemory graphics.devices.maxClock'],
    ['detail', ['graphics'], 'graphics.devices.defaultPowerLimit graphics.devices.primary'],
    ['detail', ['graphics'], 'graphics.devices.vendorId graphics.devices.deviceId'],
    ['detail', ['graphics'], 'graphics.devices.subsystemId graphics.devices.address'],
  ],
  board: [
    ['what', ['board'], 'board.name board.vendor board.version'],
    ['how', ['board'], 'board.systemName board.systemVendor board.systemVersion'],
    ['detail', ['board'], 'board.chassis'],
  ],
  firmware: [
    ['what', ['board', 'firmware'], 'firmware.version firmware.date'],
    ['how', ['board', 'firmware'], 'firmware.vendor firmware.interface'],
  ],
  storage: [
    ['what', ['storage'], 'storage.disks.model storage.disks.size storage.disks.transport'],
    ['what', ['storage'], 'storage.disks.firmware'],
    ['how', [], 'storage.disks.scheduler storage.disks.writeCache'],
    ['how', ['storage'], 'storage.disksFound storage.disks.rotational'],
    ['detail', ['storage'], 'storage.disks.name storage.disks.removable'],
  ],
  links: [
    ['what', ['board', 'graphics', 'storage'], 'pcie.devices.currentWidth pcie.devices.pathWidth'],
    ['how', ['board', 'graphics', 'storage'], 'pcie.devices.maxWidth pcie.devices.maxSpeed'],
    ['how', ['board', 'graphics', 'storage'], 'pcie.devices.name pcie.devices.driver'],
    ['detail', ['board', 'graphics', 'storage'], 'pcie.devicesFound pcie.devices.address'],
    ['detail', ['board', 'graphics', 'storage'], 'pcie.devices.kind pcie.devices.vendorId'],
    ['detail', ['board', 'graphics', 'storage'], 'pcie.devices.deviceId'],
  ],
  clocks: [
    ['what', ['governor'], 'frequency.governors frequency.energyPreferences'],
    ['what', [], 'frequency.boost frequency.driverMode'],
    ['what', ['processor'], 'frequency.drivers'],
    ['what', ['power'], 'frequency.platformProfile'],
    ['what', ['processor', 'smt'], 'frequency.policies.allowedMin frequency.policies.allowedMax'],
    ['how', ['governor', 'smt'], 'frequency.policies.governor'],
    ['how', ['governor', 'smt'], 'frequency.policies.energyPreference'],
    ['how', ['processor'], 'frequency.preferredCores'],
    ['how', [], 'frequency.minPerformance frequency.maxPerformance frequency.dynamicBoost'],
    ['how', [], 'frequency.idleDriver frequency.idleGovernor'],
    ['how', ['processor', 'smt'], 'frequency.policies.hardwareMin frequency.policies.hardwareMax'],
    ['how', ['processor', 'smt'], 'frequency.policies.base frequency.policies.driver'],
    ['detail', ['processor', 'smt'], 'frequency.policies.cpus frequency.policiesFound'],
  ],
  power: [
    ['what', ['power'], 'power.mains'],
    ['what', ['board', 'processor', 'firmware', 'power'], 'power.limits power.limits.limit'],
    ['what', ['board', 'processor', 'firmware', 'power'], 'power.limits.enabled'],
    ['how', ['board', 'processor', 'firmware', 'power'], 'power.limits.window'],
    ['how', ['board', 'processor', 'firmware', 'power'], 'power.limits.maximum'],
    ['detail', ['board', 'processor', 'firmware', 'power'], 'power.limitsFound power.limits.zone'],
    ['detail', ['board', 'processor', 'firmware', 'power'], 'power.limits.constraint'],
    ['detail', ['power'], 'power.suppliesFound power.supplies.kind power.supplies.online'],
  ],
  threads: [
    ['what', ['smt'], 'topology.smtActive topology.smtControl'],
    ['what', ['processor', 'smt'], 'topology.onlineCount topology.usableCount'],
    ['how', ['processor', 'smt'], 'topology.onlineCpus topology.usableCpus'],
    ['how', [], 'topology.isolatedCpus'],
    ['how', ['processor'], 'topology.performanceCpus topology.efficiencyCpus'],
    ['how', ['processor'], 'topology.nodesFound topology.nodes topology.nodes.cpus'],
    ['how', ['processor', 'memory'], 'topology.nodes.memory'],
    ['detail', ['processor'], 'topology.nodes.name'],
  ],
  mitigations: [
    ['what', ['processor', 'microcode', 'smt', 'mitigations'], 'mitigations.vulnerabilities.state'],
    ['detail', ['processor', 'microcode', 'smt', 'mitigations'], 'mitigations.vulnerabilities'],
    [
      'detail',
      ['processor', 'microcode', 'smt', 'mitigations'],
      'mitigations.vulnerabilitiesFound',
    ],
    [
      'detail',
      ['processor', 'microcode', 'smt', 'mitigations'],
      'mitigations.vulnerabilities.name',
    ],
  ],
  system: [
    ['what', ['system', 'kernel'], 'os.kernel os.kernelBuild'],
    ['what', ['system', 'mitigations'], 'os.commandLine'],
    ['what', ['system'], 'os.name os.version os.architecture'],
    ['how', ['system'], 'os.tainted os.taintReasons os.clockSource os.numaBalancing os.watchdog'],
    ['how', ['system'], 'os.addressRandomisation'],
    ['detail', ['system'], 'os.clockSources'],
    ['detail', ['system', 'mitigations'], 'os.commandLineLeftOut'],
  ],
  container: [
    ['what', [], 'virtualization.hypervisor virtualization.container virtualization.cpuLimit'],
    ['what', [], 'virtualization.memoryLimit'],
    ['how', [], 'virtualization.hypervisorType virtualization.containerKind'],
    ['detail', [], 'virtualization.cgroupVersion'],
  ],
  runtime: [
    ['what', ['system', 'runtime'], 'tools.node'],
    ['how', ['system', 'runtime'], 'tools.v8 tools.openssl tools.zlib tools.brotli'],
    ['detail', ['system', 'runtime'], 'tools.uv'],
  ],
  programs: [['what', ['program'], 'program.']],
  measuring: [
    ['what', [], 'suite.digest'],
    ['how', [], 'tool.version meter inventory'],
  ],
  room: [['what', ['ambient'], 'conditions.ambient']],
};

const byPath: ReadonlyMap<string, ReadingRule> = new Map(
  Object.entries(table).flatMap(([part, rows]) =>
    rows.flatMap(([telling, follows, paths]) =>
      paths.split(' ').map((path) => [path, { part: part as PartId, telling, follows }] as const),
    ),
  ),
);

/** The rule of a path, places in lists (`memory.modules.0.size`) or not; null where nobody wrote one. */
export function readingRule(path: string): ReadingRule | null {
  const plain = path.replace(/\.\d+(?=\.)/g, '');
  return byPath.get(plain) ?? byPath.get(plain.slice(0, plain.indexOf('.') + 1)) ?? null;
}

/** All paths that have a rule, in the order of parts. */
export const ruledPaths: readonly string[] = [...byPath.keys()];
