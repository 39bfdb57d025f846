import type { Meter } from '../../model/meter.ts';
import type { KeptLength } from './captured-log.ts';
import { openKernelMeter } from './kernel-meter.ts';
import { openPortableMeter } from './portable-meter.ts';

export interface MeterOptions {
  /** Takes the portable meter even where the kernel's accounting is available. */
  readonly portable?: boolean | undefined;
  /** What stays of a long output; 1 MiB at its beginning and at its end unless said otherwise. */
  readonly kept?: KeptLength | undefined;
}

export interface OpenedMeter {
  readonly meter: Meter;
  /** Why it is not the kernel meter; null when it is. */
  readonly why: string | null;
}

/** The best meter of this system, to be closed after use; one at a time in a process. */
export async function openMeter(options: MeterOptions = {}): Promise<OpenedMeter> {
  const { portable = false, kept } = options;
  if (portable) return { meter: await openPortableMeter(kept), why: 'it was asked for' };
  const kernel = await openKernelMeter(kept);
  if (kernel.ok) return { meter: kernel.value, why: null };
  return { meter: await openPortableMeter(kept), why: kernel.error };
}
