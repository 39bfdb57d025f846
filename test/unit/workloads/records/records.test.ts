import { describe, expect, it } from 'vitest';
import {
  compareOrders,
  fingerprint,
  makeRecords,
  writeReadSort,
} from '../../../../src/workloads/records/records.ts';

describe('the records', () => {
  it('come out sorted by urgency, kind, price downwards and id, all of them', () => {
    const records = makeRecords(3000, 4);
    const sorted = writeReadSort(records);
    // A second way to the same order: one text key for each record.
    const keyOf = (record: (typeof sorted)[number]) =>
      [
        record.urgent ? 0 : 1,
        record.device.kind,
        String(1e9 - record.price).padStart(10, '0'),
        String(record.id).padStart(10, '0'),
      ].join('\u0000');
    const byKey = records.map(keyOf).sort();
    expect(sorted.map(keyOf)).toEqual(byKey);
    expect([...sorted].sort((a, b) => a.id - b.id)).toEqual(records);
  });

  it('are compared without contradiction', () => {
    const [one, other] = makeRecords(2, 1);
    if (one === undefined || other === undefined) throw new Error('two records were asked for');
    expect(compareOrders(one, one)).toBe(0);
    expect(Math.sign(compareOrders(one, other))).toBe(-Math.sign(compareOrders(other, one)));
  });

  it('have a fingerprint that depends on their order', () => {
    const records = makeRecords(100, 1);
    expect(fingerprint([...records].reverse())).not.toBe(fingerprint(records));
  });

  it('are the same for the same seed only', () => {
    expect(makeRecords(50, 1)).toEqual(makeRecords(50, 1));
    expect(makeRecords(50, 1)).not.toEqual(makeRecords(50, 2));
  });
});
