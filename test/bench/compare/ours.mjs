// Reads, checks and compares a whole store: the first rig against all others. Writes what was found for comparison with others.
import { writeFileSync } from 'node:fs';
import { compareSittings } from '../../../dist/index.js';

const [results, rigs, out, verify = 'verify'] = process.argv.slice(2);
const labels = Array.from(
  { length: Number(rigs) },
  (_, rig) => `rig-${String(rig).padStart(3, '0')}`,
);
const [baseline, ...candidates] = labels;
const compared = await compareSittings(baseline, candidates, {
  results,
  verify: verify === 'verify',
});
if (!compared.ok) throw new Error(JSON.stringify(compared.error));
const { rows } = compared.value.comparison;
if (out !== undefined) writeFileSync(out, JSON.stringify(rows));
const runs = rows.reduce((sum, { candidateSummary }) => sum + candidateSummary.runs, 0);
const { maxRSS, userCPUTime, systemCPUTime } = process.resourceUsage();
console.log(
  JSON.stringify({
    rows: rows.length,
    runs,
    peakKibibytes: maxRSS,
    cpuSeconds: (userCPUTime + systemCPUTime) / 1e6,
  }),
);
