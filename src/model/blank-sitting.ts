import type { Sitting } from './sitting.ts';

/** What every sitting states of itself when it begins. */
type Beginning =
  | ('schema' | 'id' | 'tool' | 'rig' | 'levels' | 'assembly' | 'conditions' | 'suite' | 'plan')
  | ('meter' | 'environment' | 'cpus' | 'startedAt');

/** What `sitting.json` says where nothing was looked at and nothing has happened. */
export const blankSitting: Omit<Sitting, Beginning> = {
  endedAt: null,
  bootIds: [],
  state: 'open',
  interruptions: [],
  continuations: [],
  deadline: null,
  findings: [],
  cautions: null,
  idleCelsius: null,
  notInhibited: null,
  asOtherUser: false,
  telemetry: null,
  programs: [],
  inputs: [],
  leftOut: [],
  imported: null,
};
