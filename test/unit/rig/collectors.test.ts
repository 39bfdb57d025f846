import { describe, expect, it } from 'vitest';
import type { Collector } from '../../../src/rig/collector.ts';
import { cpuCollector } from '../../../src/rig/collectors/cpu.ts';
import { frequencyCollector } from '../../../src/rig/collectors/frequency.ts';
import { graphicsCollector } from '../../../src/rig/collectors/graphics.ts';
import { mitigationsCollector } from '../../../src/rig/collectors/mitigations.ts';
import { osCollector } from '../../../src/rig/collectors/os.ts';
import { pcieCollector } from '../../../src/rig/collectors/pcie.ts';
import { powerCollector } from '../../../src/rig/collectors/power.ts';
import { storageCollector } from '../../../src/rig/collectors/storage.ts';
import { virtualizationCollector } from '../../../src/rig/collectors/virtualization.ts';
import type { RawItem, RawReading } from '../../../src/rig/reading.ts';
import { memoryFiles } from './memory-files.ts';

function collect(collector: Collector, texts: Readonly<Record<string, string>>) {
  return collector.collect({ files: memoryFiles(texts), versions: {} });
}

/** Value, or why there is none. */
function told(reading: RawReading | undefined): unknown {
  if (reading === undefined) return undefined;
  return reading.value === null ? reading.absent : reading.value;
}

function tell(item: RawItem | undefined, ...names: readonly string[]): unknown[] {
  return names.map((name) => told(item?.[name]));
}

describe('graphics', () => {
  it('of the proprietary driver is named from its page in /proc, without the unique id', async () => {
    const { items } = await collect(graphicsCollector, {
      '/sys/bus/pci/devices/0000:01:00.0/class': '0x030000\n',
      '/sys/bus/pci/devices/0000:01:00.0/vendor': '0xe5c0\n',
      '/sys/bus/pci/devices/0000:01:00.0/device': '0x0042\n',
      '/sys/bus/pci/devices/0000:01:00.0/uevent': 'DRIVER=nvidia\nPCI_SLOT_NAME=0000:01:00.0\n',
      '/sys/module/nvidia/version': '555.10.02\n',
      '/proc/driver/nvidia/gpus/0000:01:00.0/information':
        'Model: \t\t Example Graphics G42\nIRQ:   \t\t 131\nGPU UUID: \t GPU-0d3c0e5e-2b1c-4f60-8e2a-7a6b1c20aaaa\nVideo BIOS: \t 95.02.18.80.01\nBus Type: \t PCIe\n',
    });
    expect(items['devices']).toHaveLength(1);
    expect(tell(items['devices']?.[0], 'name', 'driver', 'driverVersion', 'firmware')).toEqual([
      'Example Graphics G42',
      'nvidia',
      '555.10.02',
      '95.02.18.80.01',
    ]);
    expect(JSON.stringify(items)).not.toContain('GPU-');
  });

  it('is one device where a DRM card and its PCI function are the same', async () => {
    const { readings, items } = await collect(graphicsCollector, {
      '/sys/class/drm/card0/device/uevent': 'DRIVER=xe\nPCI_SLOT_NAME=0000:00:02.0\n',
      '/sys/bus/pci/devices/0000:00:02.0/class': '0x030000\n',
      '/sys/bus/pci/devices/0000:00:1f.0/class': '0x060100\n',
    });
    expect(items['devices']).toHaveLength(1);
    expect(told(readings['devicesFound'])).toBe(1);
  });
});

describe('power', () => {
  const laptop = {
    '/sys/class/power_supply/AC/type': 'Mains\n',
    '/sys/class/power_supply/AC/online': '0\n',
    '/sys/class/power_supply/BAT0/type': 'Battery\n',
    '/sys/class/power_supply/BAT0/scope': 'System\n',
    '/sys/class/power_supply/BAT0/status': 'Discharging\n',
    '/sys/class/power_supply/BAT0/capacity': '71\n',
    '/sys/class/power_supply/BAT0/serial_number': '55123\n',
  };

  it('comes from the battery when the mains lead is out', async () => {
    const { readings, items } = await collect(powerCollector, laptop);
    expect(told(readings['mains'])).toBe(false);
    expect(tell(items['supplies']?.[1], 'kind', 'status', 'charge')).toEqual([
      'battery',
      'discharging',
      0.71,
    ]);
    expect(JSON.stringify(items)).not.toContain('55123');
  });

  it('comes from the mains when the lead is in', async () => {
    const { readings } = await collect(powerCollector, {
      ...laptop,
      '/sys/class/power_supply/AC/online': '1\n',
    });
    expect(told(readings['mains'])).toBe(true);
  });
});

describe('links', () => {
  it('that are unknown are not reported, with no number in their place', async () => {
    const { items } = await collect(pcieCollector, {
      '/sys/bus/pci/devices/0000:00:17.0/class': '0x010601\n',
      '/sys/bus/pci/devices/0000:00:17.0/current_link_speed': 'Unknown\n',
      '/sys/bus/pci/devices/0000:00:17.0/current_link_width': '0\n',
      '/sys/bus/pci/devices/0000:00:17.0/max_link_speed': '2.5 GT/s PCIe\n',
      '/sys/bus/pci/devices/0000:00:17.0/max_link_width': '255\n',
    });
    expect(
      tell(items['devices']?.[0], 'currentSpeed', 'currentWidth', 'maxSpeed', 'maxWidth'),
    ).toEqual(['not-reported', 'not-reported', 2.5e9, 'not-reported']);
  });

  it('of bridges, sound and the like are not listed', async () => {
    const { readings, items } = await collect(pcieCollector, {
      '/sys/bus/pci/devices/0000:00:01.0/class': '0x060400\n',
      '/sys/bus/pci/devices/0000:00:1f.3/class': '0x040300\n',
    });
    expect(items['devices']).toEqual([]);
    expect(told(readings['devicesFound'])).toBe(0);
  });
});

describe('clocks', () => {
  it('turn the inverted switch of intel_pstate around', async () => {
    const { readings } = await collect(frequencyCollector, {
      '/sys/devices/system/cpu/intel_pstate/no_turbo': '1\n',
    });
    expect(told(readings['boost'])).toBe(false);
  });

  it('name each governor where policies differ', async () => {
    const folder = '/sys/devices/system/cpu/cpufreq';
    const { readings, items } = await collect(frequencyCollector, {
      [`${folder}/policy0/affected_cpus`]: '0 1\n',
      [`${folder}/policy0/scaling_governor`]: 'powersave\n',
      [`${folder}/policy2/affected_cpus`]: '2 3\n',
      [`${folder}/policy2/scaling_governor`]: 'performance\n',
    });
    expect(told(readings['governors'])).toEqual(['performance', 'powersave']);
    expect(items['policies']?.map((policy) => told(policy['cpus']))).toEqual(['0-1', '2-3']);
  });
});

describe('the processor', () => {
  it('of an Arm board has features and no model name', async () => {
    const { readings } = await collect(cpuCollector, {
      '/proc/cpuinfo':
        'processor\t: 0\nFeatures\t: fp asimd aes sha2 crc32 atomics\nCPU implementer\t: 0x00\n\nprocessor\t: 1\nFeatures\t: fp asimd\n\nSerial\t\t: 00000000deadbeef\n',
    });
    expect(tell(readings, 'threads', 'model', 'cores', 'flags')).toEqual([
      2,
      'not-reported',
      'not-reported',
      ['aes', 'asimd', 'sha2', 'crc32', 'atomics'],
    ]);
  });

  it('of two sockets counts cores that share a number as two', async () => {
    const block = (cpu: number, socket: number) =>
      `processor\t: ${cpu}\nphysical id\t: ${socket}\ncore id\t\t: 0\n`;
    const { readings } = await collect(cpuCollector, {
      '/proc/cpuinfo': `${block(0, 0)}\n${block(1, 1)}\n`,
    });
    expect(tell(readings, 'sockets', 'cores', 'threads')).toEqual([2, 2, 2]);
  });
});

describe('disks', () => {
  it('are real ones only, and sizes are counted in 512 bytes whatever the sectors are', async () => {
    const { items } = await collect(storageCollector, {
      '/sys/block/vda/size': '2048\n',
      '/sys/block/vda/queue/logical_block_size': '4096\n',
      '/sys/block/loop0/size': '8\n',
      '/sys/block/dm-0/size': '8\n',
      '/sys/block/zram0/size': '8\n',
    });
    expect(items['disks']?.map((disk) => tell(disk, 'name', 'size', 'transport'))).toEqual([
      ['vda', 1_048_576, 'virtio'],
    ]);
  });
});

describe('mitigations', () => {
  it('are the states the kernel knows; anything else in that folder is none', async () => {
    const folder = '/sys/devices/system/cpu/vulnerabilities';
    const { items, readings } = await collect(mitigationsCollector, {
      [`${folder}/meltdown`]: 'Not affected\n',
      [`${folder}/itlb_multihit`]: 'KVM: Mitigation: Split huge pages\n',
      [`${folder}/note`]: 'serial 12345\n',
    });
    expect(items['vulnerabilities']?.map((item) => told(item['name']))).toEqual([
      'meltdown',
      'itlb_multihit',
    ]);
    expect(told(readings['vulnerabilitiesFound'])).toBe(2);
  });
});

describe('the system', () => {
  it('is read from the second place where the first has nothing', async () => {
    const { readings } = await collect(osCollector, {
      '/usr/lib/os-release': "NAME='Example Linux'\nVERSION_ID=7\n",
    });
    expect(tell(readings, 'name', 'version')).toEqual(['Example Linux', '7']);
  });
});

describe('virtual machines and containers', () => {
  it('are known by the CPU flag and by marker files, whose text is not taken over', async () => {
    const { readings } = await collect(virtualizationCollector, {
      '/proc/cpuinfo': 'processor\t: 0\nflags\t\t: fpu hypervisor\n',
      '/sys/hypervisor/type': 'xen\n',
      '/run/systemd/container': 'somebodys-box\n',
    });
    expect(tell(readings, 'hypervisor', 'hypervisorType', 'container', 'containerKind')).toEqual([
      true,
      'xen',
      true,
      'not-reported',
    ]);
  });

  it('are seen in the group of the first process', async () => {
    const { readings } = await collect(virtualizationCollector, {
      '/proc/1/cgroup': '0::/kubepods/besteffort/pod1234\n',
    });
    expect(tell(readings, 'container', 'containerKind')).toEqual([true, 'kubepods']);
  });
});
