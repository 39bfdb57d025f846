import type { Collector } from '../collector.ts';
import { boardCollector } from './board.ts';
import { cpuCollector } from './cpu.ts';
import { firmwareCollector } from './firmware.ts';
import { frequencyCollector } from './frequency.ts';
import { graphicsCollector } from './graphics.ts';
import { memoryCollector } from './memory.ts';
import { mitigationsCollector } from './mitigations.ts';
import { osCollector } from './os.ts';
import { pcieCollector } from './pcie.ts';
import { powerCollector } from './power.ts';
import { storageCollector } from './storage.ts';
import { toolsCollector } from './tools.ts';
import { topologyCollector } from './topology.ts';
import { virtualizationCollector } from './virtualization.ts';

/** One for each section of the catalog. */
export const allCollectors: readonly Collector[] = [
  cpuCollector,
  memoryCollector,
  graphicsCollector,
  boardCollector,
  firmwareCollector,
  storageCollector,
  pcieCollector,
  frequencyCollector,
  powerCollector,
  topologyCollector,
  mitigationsCollector,
  osCollector,
  virtualizationCollector,
  toolsCollector,
];
