// What cannot be saved: reading the journals and JSON.parse of each line, nothing checked, in one thread.
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';

const [results] = process.argv.slice(2);
let runs = 0;
for (const name of readdirSync(results)) {
  const text = readFileSync(join(results, name, 'data', 'runs.jsonl'), 'utf8');
  let from = 0;
  for (let to = text.indexOf('\n'); to !== -1; to = text.indexOf('\n', from)) {
    if (JSON.parse(text.slice(from, to)).plan >= 0) runs += 1;
    from = to + 1;
  }
}
const { maxRSS, userCPUTime, systemCPUTime } = process.resourceUsage();
console.log(
  JSON.stringify({ runs, peakKibibytes: maxRSS, cpuSeconds: (userCPUTime + systemCPUTime) / 1e6 }),
);
