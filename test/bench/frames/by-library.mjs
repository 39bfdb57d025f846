// The average rate of a log by the CSV library.
import { createReadStream } from 'node:fs';
import { parse } from 'csv-parse';

let frames = 0;
let milliseconds = 0;
const rows = createReadStream(process.argv[2]).pipe(parse({ from_line: 2 }));
for await (const [, time] of rows) {
  frames += 1;
  milliseconds += Number(time);
}
console.log(JSON.stringify({ rate: (1000 * frames) / milliseconds }));
