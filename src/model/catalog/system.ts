import { bytes, type CatalogSection, count, measured, named } from './entry.ts';

export const os: CatalogSection = {
  title: 'Operating system',
  readings: {
    name: named('name'),
    version: named('version'),
    kernel: named('kernel'),
    kernelBuild: named('kernel build'),
    architecture: named('architecture'),
    commandLine: named('kernel command line'),
    commandLineLeftOut: count('parameters left out'),
    tainted: count('kernel taint'),
    taintReasons: named('taint reasons'),
    clockSource: named('clock source'),
    clockSources: named('clock sources available'),
    addressRandomisation: count('address randomisation'),
    numaBalancing: count('NUMA balancing'),
    watchdog: named('NMI watchdog'),
  },
  items: {},
};

export const virtualization: CatalogSection = {
  title: 'Virtual machine and container',
  readings: {
    hypervisor: named('in a virtual machine'),
    hypervisorType: named('hypervisor'),
    container: named('in a container'),
    containerKind: named('container kind'),
    cgroupVersion: named('cgroup version'),
    cpuLimit: measured('1', 'CPU limit'),
    memoryLimit: bytes('memory limit'),
  },
  items: {},
};

export const tools: CatalogSection = {
  title: 'Runtime',
  readings: {
    node: named('Node'),
    v8: named('V8'),
    openssl: named('OpenSSL'),
    zlib: named('zlib'),
    brotli: named('brotli'),
    uv: named('libuv'),
  },
  items: {},
};
