import type { Systeminformation } from 'systeminformation';
import { describe, expect, it } from 'vitest';
import { inventoryCatalog } from '../../../src/model/inventory-catalog.ts';
import { admitSection } from '../../../src/rig/admit.ts';
import { absent, present } from '../../../src/rig/reading.ts';
import { fillIn, sectionsFrom } from '../../../src/rig/system-information.ts';

/** Invented answers in the shape of the library's. */
const module = {
  size: 17_179_869_184,
  bank: 'BANK 0',
  type: 'DDR5',
  ecc: false,
  clockSpeed: 5600,
  formFactor: 'DIMM',
  manufacturer: 'Example Memory',
  partNum: 'EM5-16G',
  serialNum: 'DECOYRAM1',
  voltageConfigured: 1.1,
  voltageMin: 1.1,
  voltageMax: 1.1,
} satisfies Systeminformation.MemLayoutData;

describe('what the library answers', () => {
  it('becomes readings of the catalog in base units, without serial numbers', () => {
    const sections = sectionsFrom({
      memLayout: [module],
      baseboard: {
        manufacturer: 'Example Boards',
        model: 'EB-Z1',
        version: 'Default string',
        serial: 'DECOYBOARD',
        assetTag: 'DECOYTAG',
        memMax: null,
        memSlots: null,
      },
    });
    expect(JSON.stringify(sections)).not.toContain('DECOY');
    const memory = inventoryCatalog['memory'];
    const raw = sections['memory'];
    if (memory === undefined || !raw) throw new Error('no memory section');
    const admitted = admitSection(memory, raw, absent('not-reported', 'x'));
    expect(admitted.items['modules']?.[0]?.['configuredSpeed']).toEqual({
      value: 5.6e9,
      unit: '{transfers}/s',
      source: 'systeminformation',
    });
    expect(sections['board']?.readings['name']).toMatchObject({ value: 'EB-Z1' });
    expect(sections['board']?.readings['version']).toMatchObject({ absent: 'not-reported' });
  });

  it('is not believed where it makes a module up from the size of all memory', () => {
    const made = { ...module, type: '', size: 25_276_502_016 };
    const empty = { ...module, type: 'Empty', size: 0 };
    expect(sectionsFrom({ memLayout: [made, empty] })['memory']?.items['modules']).toEqual([]);
  });

  it('gives absence, never zero or an empty name, for what the library does not know', () => {
    const values = Object.values(sectionsFrom({})).flatMap((section) =>
      Object.values(section?.readings ?? {}).map(({ value }) => value),
    );
    expect(new Set(values)).toEqual(new Set([null]));
  });
});

describe('filling in', () => {
  const more = {
    readings: { model: present('Guess', 'systeminformation') },
    items: { modules: [{ size: present(1, 'systeminformation') }] },
  };

  it('leaves alone what the kernel told', () => {
    const base = {
      readings: { model: present('Example Silicon E4', '/proc/cpuinfo') },
      items: { modules: [{ size: present(2, '/run') }] },
    };
    expect(fillIn(base, more)).toEqual(base);
  });

  it('closes gaps and counts the parts it brings', () => {
    const base = {
      readings: { model: absent('no-such-file', '/proc/cpuinfo') },
      items: { modules: [] },
    };
    expect(fillIn(base, more)).toEqual({
      readings: { model: more.readings.model, modulesFound: present(1, 'systeminformation') },
      items: more.items,
    });
    expect(fillIn(null, more).readings['model']).toEqual(more.readings.model);
  });
});
