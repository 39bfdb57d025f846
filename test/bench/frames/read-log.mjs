// All figures of a log (or those named), with the peak memory of this process.
import { frameFigures } from '../../../dist/model/suite.js';
import { readFrameFigures } from '../../../dist/runner/metrics/frames/read-frames.js';

const [path, ...named] = process.argv.slice(2);
const column = { column: 'milliseconds', delimiter: ',', factor: 0.001 };
const figures = await readFrameFigures(path, column, named.length > 0 ? named : frameFigures);
if (!figures.ok) throw new Error(figures.error);
const frames = Number(/(\d+)\.csv$/.exec(path)?.[1]);
const peakKibibytes = process.resourceUsage().maxRSS;
console.log(JSON.stringify({ frames, figures: figures.value, peakKibibytes }));
