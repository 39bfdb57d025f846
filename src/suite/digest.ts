import { createHash } from 'node:crypto';
import type { Suite } from '../model/suite.ts';

/**
 * SHA-256 (hex) over what decides what is measured, the profile's name and amounts included. Left out: titles,
 * description, the difference that matters, what is done when something goes wrong and what is known about programs, which change no measurement (versions as
 * found are recorded with the sitting); and the seed, which only picks one of the orders that count as equal and may be
 * another one in each sitting.
 */
export function suiteDigest(suite: Omit<Suite, 'digest'>): string {
  const { title, description, differenceThatMatters, seed, programs, workloads, ...others } = suite;
  const { temperatureLimit, retry, parkAfter, requires, ...deciding } = others;
  const untitled = workloads.map(({ title: _, ...workload }) => workload);
  const text = canonicalJson({ ...deciding, workloads: untitled });
  return createHash('sha256').update(text, 'utf8').digest('hex');
}

/**
 * JSON text that is the same for equal values: no blanks, keys sorted by UTF-16 units, numbers and strings as
 * ECMAScript writes them. Source: RFC 8785 (JSON Canonicalization Scheme).
 */
export function canonicalJson(value: unknown): string {
  if (Array.isArray(value)) return `[${value.map(canonicalJson).join(',')}]`;
  if (typeof value !== 'object' || value === null) return JSON.stringify(value);
  const entries = Object.entries(value).sort(([one], [other]) => (one < other ? -1 : 1));
  return `{${entries.map(([key, item]) => `${JSON.stringify(key)}:${canonicalJson(item)}`).join(',')}}`;
}
