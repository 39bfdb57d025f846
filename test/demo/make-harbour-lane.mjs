// Makes the sittings of the invented campaign in results/harbour-lane, byte for byte the same each time. The argument is the folder
// they go to: an empty one, or one that holds the campaign's two files alone.
import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { openCampaign } from '../../dist/api/open-campaign.js';
import { studyRig } from '../../dist/api/study-rig.js';
import { encodeLine, firstSum } from '../../dist/journal/format.js';
import { makePlan } from '../../dist/plan/make-plan.js';
import { createSittingFolder } from '../../dist/results/create-folder.js';
import { sittingId } from '../../dist/results/layout.js';
import { sealSitting } from '../../dist/results/seal.js';
import { chance } from './harbour-lane/chance.mjs';
import { inventoryOf } from './harbour-lane/inventory.mjs';
import { measure } from './harbour-lane/measure.mjs';
import { describe } from './harbour-lane/sitting.mjs';
import { hotVisit, updatedRig, visits } from './harbour-lane/truth.mjs';

const seed = 20260202;
const home = fileURLToPath(new URL('../../results/harbour-lane/', import.meta.url));
const results = process.argv[2] ?? home;

const opened = await openCampaign(join(home, 'campaign.yaml'));
if (!opened.ok) throw new Error(opened.error.map(({ message }) => message).join('\n'));
const { campaign, suite } = opened.value;
mkdirSync(results, { recursive: true });

const baselines = [];
for (const [visitNumber, visit] of visits.entries()) {
  for (const sittingNumber of [0, 1]) {
    const id = await makeSitting(visit, visitNumber, sittingNumber);
    if (visit.rig === campaign.baseline) baselines.push(id);
  }
}
await makeStudy(baselines.slice(0, 4));

async function makeSitting(visit, visitNumber, sittingNumber) {
  const draws = chance(seed + visitNumber * 10 + sittingNumber);
  const { levels } = campaign.rigs.find(({ label }) => label === visit.rig);
  const situation = {
    isUpdated: visit.rig === updatedRig,
    isHot:
      visit.rig === hotVisit.rig && visit.assembly === hotVisit.assembly && sittingNumber === 0,
    isLate: visit.rig === campaign.baseline && visit.assembly > 1,
  };
  const startedAt = new Date(
    Date.parse(`${visit.day}T${sittingNumber === 0 ? '09' : '11'}:00:00Z`) +
      draws.whole(0, 1_500_000),
  );
  const id = sittingId(startedAt, visit.rig, suite.suite.id, Buffer.from(draws.hex(4), 'hex'));
  const ambientCelsius = situation.isHot ? 29.5 : 20.5 + draws.whole(0, 15) / 10;
  const idleCelsius = Math.round(13 + ambientCelsius);
  const bootId = `invented-${draws.hex(8)}-${draws.hex(4)}`;
  const plan = makePlan(suite.suite);
  const about = { suite: suite.suite, plan, levels, situation, bootId, idleCelsius, draws };
  const measured = measure({ ...about, startedAt: startedAt.toISOString() });
  const sitting = describe({ campaign, loaded: suite, id, visit, ambientCelsius, startedAt })({
    ...about,
    ...measured,
    isFirst: visit.assembly === 1 && sittingNumber === 0,
  });
  const inventory = inventoryOf(levels, situation.isUpdated, startedAt.toISOString());
  const paths = await createSittingFolder(join(results, id), sitting, inventory);
  for (const [path, text] of measured.logs) writeFileSync(join(paths.data, path), text);
  writeFileSync(paths.journal, journal(measured.runs));
  const lines = [measured.table, ...measured.samples];
  writeFileSync(paths.telemetry, lines.map((line) => `${JSON.stringify(line)}\n`).join(''));
  await sealSitting(paths.folder, sitting, new Date(sitting.endedAt));
  return id;
}

function journal(runs) {
  let [text, sum] = ['', firstSum];
  for (const run of runs) {
    const line = encodeLine(run, sum);
    text += line.text;
    sum = line.sum;
  }
  return text;
}

/** Of the baseline as it was built twice, before it was measured again. */
async function makeStudy(ids) {
  const clock = { now: () => new Date('2026-02-09T17:00:00Z') };
  const studied = await studyRig(campaign.baseline, { results, sittings: ids.join(','), clock });
  if (!studied.ok) throw new Error(studied.error.map(({ message }) => message).join('\n'));
}
