import {
  bytes,
  type CatalogSection,
  count,
  hertz,
  measured,
  moving,
  named,
  watts,
} from './entry.ts';

export const frequency: CatalogSection = {
  title: 'Clocks and power policy',
  readings: {
    drivers: named('driver'),
    driverMode: named('driver mode'),
    governors: named('governor'),
    energyPreferences: named('energy preference'),
    boost: named('boost allowed'),
    preferredCores: named('preferred cores'),
    platformProfile: named('platform profile'),
    minPerformance: measured('1', 'lowest performance'),
    maxPerformance: measured('1', 'highest performance'),
    dynamicBoost: named('dynamic boost'),
    idleDriver: named('idle driver'),
    idleGovernor: named('idle governor'),
    policiesFound: count('clock policies found'),
  },
  items: {
    policies: {
      label: 'clock policies',
      fields: {
        cpus: named('CPUs'),
        driver: named('driver'),
        governor: named('governor'),
        energyPreference: named('energy preference'),
        hardwareMin: hertz('lowest possible'),
        hardwareMax: hertz('highest possible'),
        base: hertz('base'),
        allowedMin: hertz('lowest allowed'),
        allowedMax: hertz('highest allowed'),
        lowestNow: moving('Hz', 'slowest at the time'),
        highestNow: moving('Hz', 'fastest at the time'),
      },
    },
  },
};

export const power: CatalogSection = {
  title: 'Power',
  readings: {
    mains: named('on mains'),
    suppliesFound: count('supplies found'),
    limitsFound: count('power limits found'),
  },
  items: {
    supplies: {
      label: 'supplies',
      fields: {
        kind: named('kind'),
        online: named('connected'),
        status: moving(null, 'status'),
        charge: moving('1', 'charge'),
      },
    },
    limits: {
      label: 'power limits',
      fields: {
        zone: named('zone'),
        constraint: named('constraint'),
        limit: watts('limit'),
        window: measured('s', 'over'),
        maximum: watts('at most'),
        enabled: named('enabled'),
      },
    },
  },
};

export const topology: CatalogSection = {
  title: 'Threads and nodes',
  readings: {
    smtActive: named('SMT active'),
    smtControl: named('SMT control'),
    performanceCpus: named('performance cores (CPUs)'),
    efficiencyCpus: named('efficiency cores (CPUs)'),
    onlineCpus: named('CPUs online'),
    onlineCount: count('CPUs online, number'),
    usableCpus: named('CPUs usable here'),
    usableCount: count('CPUs usable here, number'),
    isolatedCpus: named('CPUs isolated'),
    nodesFound: count('NUMA nodes'),
  },
  items: {
    nodes: {
      label: 'NUMA nodes',
      fields: { name: named('node'), cpus: named('CPUs'), memory: bytes('memory') },
    },
  },
};

export const mitigations: CatalogSection = {
  title: 'Mitigations',
  readings: { vulnerabilitiesFound: count('vulnerabilities listed') },
  items: {
    vulnerabilities: {
      label: 'vulnerabilities',
      fields: { name: named('vulnerability'), state: named('state') },
    },
  },
};
