import { isMap, isSeq, LineCounter, parseDocument } from 'yaml';

/** The line, from 1, at which each workload of a suite file begins, by id; empty for what is no suite. */
export function workloadLines(text: string): ReadonlyMap<string, number> {
  const counter = new LineCounter();
  const workloads = parseDocument(text, { lineCounter: counter }).get('workloads');
  const lines = new Map<string, number>();
  if (!isSeq(workloads)) return lines;
  for (const item of workloads.items) {
    if (!isMap(item) || item.range === undefined || item.range === null) continue;
    const id = item.get('id');
    if (typeof id === 'string') lines.set(id, counter.linePos(item.range[0]).line);
  }
  return lines;
}
