// The page of a large report: how long it takes, how many bytes it has, and what that is beside a small one.

import { sampleReport } from '../../build/test/setup/sample-report.js';
import { makePage } from '../../dist/api/report/make-page.js';

const small = await measure({ rigs: 4, workloads: 5 });
const large = await measure({ rigs: 40, workloads: 50 });
print('4 rigs x 5 workloads', small);
print('40 rigs x 50 workloads (2000 rows, 30,000 runs, courses of 120 sittings)', large);
const rows = (40 * 50) / (4 * 5);
process.stdout.write(
  `rows ${rows} times as many: time ${(large.seconds / small.seconds).toFixed(1)} times, bytes ${(large.bytes / small.bytes).toFixed(1)} times\n`,
);
process.stdout.write(`wanted: below 5 s and 5 MB\n`);

async function measure(size) {
  const report = sampleReport({ ...size, coursePoints: 400 });
  await makePage(report);
  const from = performance.now();
  const page = await makePage(report);
  return { seconds: (performance.now() - from) / 1000, bytes: Buffer.byteLength(page), page };
}

function print(name, { seconds, bytes }) {
  process.stdout.write(`${name}: ${seconds.toFixed(2)} s, ${(bytes / 1e6).toFixed(2)} MB\n`);
}
