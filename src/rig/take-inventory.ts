import { performance } from 'node:perf_hooks';
import type { CatalogSection } from '../model/catalog/entry.ts';
import {
  type CollectorReport,
  type Inventory,
  inventorySchema,
  type Section,
} from '../model/inventory.ts';
import { inventoryCatalog } from '../model/inventory-catalog.ts';
import { admitSection } from './admit.ts';
import type { Collector, RigContext } from './collector.ts';
import { allCollectors } from './collectors/all.ts';
import { absent } from './reading.ts';
import { type RigFiles, rigFiles } from './rig-files.ts';
import { type Collected, runCollector } from './run-collector.ts';
import { askSystemInformation, fillIn, type RawSections } from './system-information.ts';

export interface InventoryOptions {
  /** Mount point: `/` on a real rig. Nothing outside it is read. */
  readonly root: string;
  readonly now: () => Date;
  /** `process.versions` of the program that measures. */
  readonly versions: Readonly<Record<string, string | undefined>>;
  /** Ask the systeminformation library for what the kernel's files left open; only where the root is `/`. Default true. */
  readonly systemInformation?: boolean;
  readonly signal?: AbortSignal;
  /** For each collector; all run at once. Default 1.2. */
  readonly collectorLimitSeconds?: number;
  /** For the systeminformation library, asked after the collectors. Default 0.7. */
  readonly libraryLimitSeconds?: number;
  /** In place of the files under `root`. */
  readonly files?: RigFiles;
  readonly collectors?: readonly Collector[];
}

// Together below the 2 s that a person waits without wondering.
const collectorLimitSeconds = 1.2;
const libraryLimitSeconds = 0.7;

/**
 * What is in the rig and how it is set: every reading that the catalog declares, in its order, with unit and source
 * or the reason why it is absent. A collector that fails or hangs is reported in `collectors`, its readings are
 * absent. Rejects only with the reason of an aborted signal.
 */
export async function takeInventory(options: InventoryOptions): Promise<Inventory> {
  options.signal?.throwIfAborted();
  const started = performance.now();
  const takenAt = options.now().toISOString();
  const limitSeconds = options.collectorLimitSeconds ?? collectorLimitSeconds;
  // Files of their own for each: a collector with thousands to read must not keep the others waiting in line.
  const context = (): RigContext => ({
    files: options.files ?? rigFiles(options.root),
    versions: options.versions,
  });
  const collected = await Promise.all(
    (options.collectors ?? allCollectors).map(async (collector) => ({
      name: collector.name,
      outcome: await runCollector(() => collector.collect(context()), limitSeconds),
    })),
  );
  options.signal?.throwIfAborted();
  const reports = collected.map(({ name, outcome }) => reportOf(name, outcome));
  const fromKernel = Object.fromEntries(
    collected.map(({ name, outcome }) => [name, outcome.value]),
  );
  const asked = options.root === '/' && options.systemInformation !== false;
  const added = asked
    ? await runCollector(
        () => askSystemInformation(fromKernel),
        options.libraryLimitSeconds ?? libraryLimitSeconds,
      )
    : null;
  options.signal?.throwIfAborted();
  return {
    schema: inventorySchema,
    takenAt,
    seconds: (performance.now() - started) / 1000,
    collectors: added === null ? reports : [...reports, reportOf('systeminformation', added)],
    sections: admitAll(fromKernel, added?.value ?? {}),
  };
}

function admitAll(fromKernel: RawSections, added: RawSections): Record<string, Section> {
  const admit = ([name, catalog]: [string, CatalogSection]) => {
    const section = fromKernel[name] ?? null;
    const missing = absent(section === null ? 'unreadable' : 'not-reported', `collector ${name}`);
    return [name, admitSection(catalog, fillIn(section, added[name]), missing)] as const;
  };
  return Object.fromEntries(Object.entries(inventoryCatalog).map(admit));
}

function reportOf(name: string, outcome: Collected<unknown>): CollectorReport {
  return { name, seconds: outcome.seconds, failure: outcome.failure };
}
