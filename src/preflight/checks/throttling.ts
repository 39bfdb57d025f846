import type { Finding } from '../../model/finding.ts';
import { type CheckContext, rigFinding } from '../check.ts';

/** The processor is neither slowed by heat nor as hot at rest as a run may get. */
export function checkThrottling({ condition, suite }: CheckContext): readonly Finding[] {
  const { celsius, critical, throttleEvents } = condition.heat;
  const { temperatureLimit } = suite;
  const limit = Math.min(
    temperatureLimit.celsius ?? Number.POSITIVE_INFINITY,
    critical === null ? Number.POSITIVE_INFINITY : critical - temperatureLimit.marginKelvin,
  );
  const findings: Finding[] = [];
  if (celsius !== null && celsius >= limit) {
    const message = `the processor has ${celsius} °C before anything is run, and runs are ended at ${limit} °C`;
    findings.push(rigFinding('throttling', 'refuse', message, 'check cooler, fans and dust'));
  }
  if (throttleEvents !== null && throttleEvents > 0) {
    const message = `the processor is slowed by heat now, ${throttleEvents} times in about a second`;
    const remedy = 'let it cool down; check cooler, fans and dust';
    findings.push(rigFinding('throttling', 'warn', message, remedy));
  }
  return findings;
}
