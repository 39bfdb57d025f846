/** By bit. Source: Documentation/admin-guide/tainted-kernels.rst, table of flags. */
const meanings = [
  'proprietary module',
  'module loaded by force',
  'kernel on a system out of its specification',
  'module unloaded by force',
  'machine check exception',
  'bad page',
  'request of a user',
  'oops or BUG',
  'ACPI table replaced by user',
  'kernel warning',
  'staging driver',
  'workaround for a firmware bug',
  'module built outside the kernel',
  'unsigned module',
  'soft lockup',
  'live patch',
  'auxiliary taint of the distribution',
  'randomised structure layout',
  'test module',
] as const;

/** What a taint number stands for; bits without a known meaning are named by number. */
export function taintReasons(taint: number): readonly string[] {
  const reasons: string[] = [];
  for (let bit = 0; bit < 32; bit += 1)
    if (Math.floor(taint / 2 ** bit) % 2 === 1) reasons.push(meanings[bit] ?? `bit ${bit}`);
  return reasons;
}
