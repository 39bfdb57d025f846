import {
  bytes,
  type CatalogSection,
  count,
  hertz,
  measured,
  moving,
  named,
  transfers,
  watts,
} from './entry.ts';

export const cpu: CatalogSection = {
  title: 'Processor',
  readings: {
    model: named('model'),
    vendor: named('vendor'),
    sockets: count('sockets'),
    cores: count('cores'),
    threads: count('threads'),
    family: count('family'),
    modelNumber: count('model number'),
    stepping: count('stepping'),
    microcode: named('microcode'),
    cachesFound: count('caches found'),
    flags: named('features'),
  },
  items: {
    caches: {
      label: 'caches',
      fields: {
        level: count('level'),
        type: named('type'),
        size: bytes('size'),
        sharedBy: count('threads sharing one'),
        instances: count('of them'),
      },
    },
  },
};

export const memory: CatalogSection = {
  title: 'Memory',
  readings: {
    total: bytes('usable'),
    available: moving('By', 'free at the time'),
    slots: count('slots'),
    modulesFound: count('modules fitted'),
    errorCorrection: named('error correction'),
    swapTotal: bytes('swap'),
    swapFree: moving('By', 'swap free'),
    swappiness: count('swappiness'),
    transparentHugePages: named('transparent huge pages'),
    hugePageDefragmentation: named('huge page defragmentation'),
    hugePages: count('reserved huge pages'),
    hugePageSize: bytes('huge page size'),
    compressedSwap: named('compressed swap cache'),
  },
  items: {
    modules: {
      label: 'modules',
      fields: {
        locator: named('slot'),
        bank: named('bank'),
        size: bytes('size'),
        type: named('type'),
        formFactor: named('form'),
        configuredSpeed: transfers('configured speed'),
        ratedSpeed: transfers('rated speed'),
        ranks: count('ranks'),
        configuredVoltage: measured('V', 'voltage'),
        manufacturer: named('maker'),
        partNumber: named('part number'),
      },
    },
  },
};

export const graphics: CatalogSection = {
  title: 'Graphics',
  readings: { devicesFound: count('devices found') },
  items: {
    devices: {
      label: 'devices',
      fields: {
        name: named('name'),
        driver: named('driver'),
        driverVersion: named('driver version'),
        videoMemory: bytes('video memory'),
        visibleVideoMemory: bytes('visible to the processor'),
        maxClock: hertz('highest clock'),
        powerLimit: watts('power limit'),
        defaultPowerLimit: watts('default power limit'),
        performanceLevel: named('performance level'),
        firmware: named('video BIOS'),
        primary: named('primary'),
        vendorId: named('vendor id'),
        deviceId: named('device id'),
        subsystemId: named('subsystem id'),
        address: named('PCI address'),
      },
    },
  },
};

export const board: CatalogSection = {
  title: 'Board',
  readings: {
    vendor: named('board vendor'),
    name: named('board'),
    version: named('board version'),
    systemVendor: named('system vendor'),
    systemName: named('system'),
    systemVersion: named('system version'),
    chassis: named('chassis'),
  },
  items: {},
};

export const firmware: CatalogSection = {
  title: 'Firmware',
  readings: {
    vendor: named('vendor'),
    version: named('version'),
    date: named('date'),
    interface: named('started through'),
  },
  items: {},
};

export const storage: CatalogSection = {
  title: 'Storage',
  readings: { disksFound: count('disks found') },
  items: {
    disks: {
      label: 'disks',
      fields: {
        name: named('name'),
        model: named('model'),
        size: bytes('size'),
        transport: named('transport'),
        rotational: named('rotational'),
        removable: named('removable'),
        firmware: named('firmware'),
        scheduler: named('scheduler'),
        writeCache: named('write cache'),
      },
    },
  },
};

export const pcie: CatalogSection = {
  title: 'PCIe links',
  readings: { devicesFound: count('devices found') },
  items: {
    devices: {
      label: 'devices',
      fields: {
        address: named('address'),
        kind: named('kind'),
        name: named('name'),
        currentWidth: count('lanes now'),
        maxWidth: count('lanes possible'),
        currentSpeed: moving('{transfers}/s', 'speed now'),
        maxSpeed: transfers('speed possible'),
        pathWidth: count('lanes at the narrowest point'),
        pathSpeed: moving('{transfers}/s', 'speed at the narrowest point'),
        driver: named('driver'),
        vendorId: named('vendor id'),
        deviceId: named('device id'),
      },
    },
  },
};
