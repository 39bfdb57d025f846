import { updatedRig } from './truth.mjs';

const path = '/usr/local/sbin:/usr/local/bin:/usr/sbin:/usr/bin:/sbin:/bin';

/** What `sitting.json` says of an invented sitting; every text that a person reads marks it as invented. */
export const describe =
  ({ campaign, loaded, id, visit, ambientCelsius, startedAt }) =>
  ({ suite, plan, levels, bootId, idleCelsius, samples, seconds, isFirst }) => ({
    schema: 'steadyrig/sitting/1',
    id,
    tool: { name: 'steadyrig', version: '0.1.0' },
    ...{ rig: visit.rig, levels, assembly: visit.assembly },
    conditions: { ambientCelsius, notes: 'invented for a demonstration: no machine was measured' },
    suite: { text: loaded.text, textSha256: loaded.textSha256, resolved: suite, redactions: 0 },
    plan,
    meter: { name: 'kernel', why: null },
    environment: {
      ...{ PATH: path, LANG: 'C.UTF-8', LC_ALL: 'C.UTF-8', TZ: 'UTC' },
      ...{ HOME: '{scratch}', TMPDIR: '{scratch}', STEADYRIG_MARK: '{mark}' },
    },
    cpus: 12,
    startedAt: startedAt.toISOString(),
    endedAt: new Date(startedAt.getTime() + Math.round((seconds + 1) * 1000)).toISOString(),
    ...{ bootIds: [bootId], state: 'complete', interruptions: [], continuations: [] },
    ...{ deadline: null, findings: [] },
    cautions: { how: isFirst ? 'operator' : 'earlier', at: startedAt.toISOString() },
    ...{ idleCelsius, notInhibited: null, asOtherUser: false },
    telemetry: {
      ...{ samples: samples.length, skipped: 0, intervalSeconds: 5 },
      ...{ meanWallSeconds: 0.0009, maxWallSeconds: 0.0031, meanCpuSeconds: 0.0006, lost: 0 },
    },
    ...{ programs: [], inputs: [], leftOut: [], imported: null },
    // Nobody asked about the changed firmware: that rig was measured without the campaign's lead.
    ...(visit.rig !== updatedRig && { campaign: ledBy(campaign, ambientCelsius) }),
  });

const ledBy = (campaign, ambientCelsius) => ({
  id: campaign.id,
  accepted: [],
  confirmed: ['case: Example Open Bench Case', 'power supply: Example Harbour 400'],
  answers: campaign.conditions.map(({ id: condition, prompt, kind }) => ({
    ...{ id: condition, prompt },
    text: kind === 'temperature' ? `${ambientCelsius}` : 'Example Paste, this morning (invented)',
    celsius: kind === 'temperature' ? ambientCelsius : null,
  })),
});
