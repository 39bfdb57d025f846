/** Resolves to the value of `work`, or to `late` when the time is up first. Rejects as `work` does. */
export type Within = <T>(work: Promise<T>) => Promise<T | 'late'>;

/** A limit by the clock of this process. Work that hangs is left behind: the kernel gives no read back. */
export function withinSeconds(seconds: number): Within {
  return async (work) => {
    let timer: NodeJS.Timeout | undefined;
    const late = new Promise<'late'>((resolve) => {
      timer = setTimeout(() => resolve('late'), seconds * 1000);
    });
    try {
      return await Promise.race([work, late]);
    } finally {
      clearTimeout(timer);
    }
  };
}
