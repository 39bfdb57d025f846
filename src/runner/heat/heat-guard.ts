import type { SittingEvent } from '../../model/event.ts';
import type { StopOrder } from '../../model/meter.ts';
import type { PlannedRun } from '../../model/plan.ts';
import type { CooldownRecord, RunRecord } from '../../model/run.ts';
import type { Suite } from '../../model/suite.ts';
import type { Clock } from '../clock.ts';
import { coolDown, cooldownAtMostSeconds, type LoadMeter } from '../cooldown.ts';
import type { StopControl } from '../stop-control.ts';
import type { Telemetry } from '../telemetry/start-telemetry.ts';
import { coolBelow } from './cool-below.ts';
import { type Ceiling, temperatureCeiling } from './temperature-ceiling.ts';
import { openThermometer, type Thermometer } from './thermometer.ts';

export interface HeatSetting {
  readonly suite: Pick<Suite, 'cooldown' | 'temperatureLimit'>;
  readonly clock: Clock;
  readonly readLoad: LoadMeter;
  readonly telemetry: Telemetry | null;
  /** Learnt before the first run; null where it was not. */
  readonly idleCelsius: number | null;
  readonly stop: StopControl;
  readonly emit: (event: SittingEvent) => void;
}

/** So many runs ended by heat end the sitting. */
const mostHotRuns = 2;
const mostExtraSeconds = 600;

/** Looks after the processor's temperature in a sitting: waits before its runs, and ends what gets too hot. */
export class HeatGuard {
  readonly #setting: HeatSetting;
  readonly #thermometer: Thermometer | null;
  readonly #ceiling: Ceiling;
  #hotRuns: number;
  #hasTold = false;

  /** `recorded`: runs that the sitting has already. */
  constructor(setting: HeatSetting, recorded: readonly RunRecord[]) {
    this.#setting = setting;
    this.#thermometer = openThermometer(setting.telemetry);
    this.#ceiling = temperatureCeiling(
      setting.suite.temperatureLimit,
      this.#thermometer?.main ?? null,
    );
    this.#hotRuns = recorded.filter(isHot).length;
    this.#tellUnwatched();
  }

  /** The cooldown, and beyond it until the processor is below its limit; ends the sitting where it stays too hot. */
  async coolDown(next: PlannedRun): Promise<CooldownRecord> {
    const { suite, clock, readLoad, idleCelsius, stop, emit } = this.#setting;
    const { cooldown } = suite;
    emit({ type: 'cooldown-started', next, atMostSeconds: cooldownAtMostSeconds(cooldown) });
    const signs = { clock, readLoad, thermometer: this.#thermometer, idleCelsius };
    const record = await coolDown(cooldown, signs, stop.afterRun);
    if (record.ended === 'sensor-missing') this.#tellMissing();
    const extraSeconds = await this.coolBelowLimit();
    const whole =
      extraSeconds === 0
        ? record
        : {
            ...record,
            seconds: record.seconds + extraSeconds,
            celsius: this.#thermometer?.celsius() ?? null,
          };
    emit({ type: 'cooldown-ended', next, cooldown: whole });
    return whole;
  }

  /** Waits while the processor is too hot to begin anything, and tells how long; ends the sitting where it stays so. */
  async coolBelowLimit(): Promise<number> {
    const { clock, stop, emit } = this.#setting;
    const thermometer = this.#thermometer;
    const ceiling = this.#ceiling;
    if (thermometer === null || ceiling.kind === 'unwatched') return 0;
    const celsius = thermometer.celsius();
    if (celsius === null || celsius < ceiling.celsius) return 0;
    emit({
      type: 'notice',
      message: `TOO HOT: the processor is at ${celsius} °C, its limit is ${ceiling.celsius} °C (${ceiling.origin}): waiting up to ${mostExtraSeconds / 60} min for it to cool`,
    });
    const { seconds, isCool } = await coolBelow(
      ceiling.celsius,
      { clock, thermometer, mostSeconds: mostExtraSeconds },
      stop.afterRun,
    );
    if (!isCool && !stop.afterRun.aborted) {
      const message = `TOO HOT: after ${Math.round(seconds)} s the processor is still not below ${ceiling.celsius} °C; the sitting ends: look at cooler, fans and thermal paste, then it can be continued`;
      emit({ type: 'notice', message });
      stop.end('temperature-limit');
    }
    return seconds;
  }

  /** Does one run, its signal aborted as `abort` is, and as soon as the processor reaches its limit. */
  async watch<T>(abort: AbortSignal, work: (abort: AbortSignal) => Promise<T>): Promise<T> {
    const ceiling = this.#ceiling;
    const thermometer = this.#thermometer;
    if (thermometer === null || ceiling.kind === 'unwatched') return work(abort);
    const control = new AbortController();
    const pass = (): void => control.abort(abort.reason);
    abort.addEventListener('abort', pass, { once: true });
    if (abort.aborted) pass();
    const leave = thermometer.follow((celsius) => {
      if (celsius < ceiling.celsius) return;
      const message = `the processor reached ${celsius} °C; its limit is ${ceiling.celsius} °C, ${ceiling.origin}`;
      control.abort({ cause: 'temperature-limit', message } satisfies StopOrder);
    });
    try {
      return await work(control.signal);
    } finally {
      leave();
      abort.removeEventListener('abort', pass);
    }
  }

  /** To be told of each run once it is recorded: the second that heat ended, ends the sitting. */
  runFinished(record: RunRecord): void {
    if (!isHot(record)) return;
    this.#hotRuns += 1;
    if (this.#hotRuns < mostHotRuns) return;
    const { stop, emit } = this.#setting;
    const message =
      'TOO HOT: the processor reached its temperature limit in a second run; the sitting ends: look at cooler, fans and thermal paste, then it can be continued';
    emit({ type: 'notice', message });
    stop.end('temperature-limit');
  }

  #tellUnwatched(): void {
    const { suite, emit } = this.#setting;
    const { celsius } = suite.temperatureLimit;
    if (this.#ceiling.kind === 'watched' || celsius === null) return;
    const message = `the temperature limit of ${celsius} °C is NOT watched: ${this.#ceiling.why}`;
    emit({ type: 'notice', message });
  }

  #tellMissing(): void {
    if (this.#hasTold) return;
    this.#hasTold = true;
    const { cooldown } = this.#setting.suite;
    const [what, waits] =
      cooldown.kind === 'temperature'
        ? ["the processor's temperature", cooldown.withoutSensorSeconds]
        : ['the load', cooldownAtMostSeconds(cooldown)];
    const message = `nothing tells ${what}: cooldowns take ${waits} s instead`;
    this.#setting.emit({ type: 'notice', message });
  }
}

function isHot({ failure }: RunRecord): boolean {
  return failure?.code === 'temperature-limit';
}
