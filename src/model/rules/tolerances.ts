/**
 * By how much a reading may differ and still be taken for the same, base units. Usable memory moves by what firmware and kernel
 * set aside at each boot, some MB; a module less is thousands of them. Common practice, no source.
 */
export const tolerances: Readonly<Record<string, number>> = {
  'memory.total': 64 * 2 ** 20,
  'topology.nodes.memory': 64 * 2 ** 20,
};
