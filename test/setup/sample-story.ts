import type { Sitting } from '../../src/model/sitting.ts';
import type { StoryFacts, StorySitting } from '../../src/report/story/story-facts.ts';
import { sampleComparison } from './sample-comparison.ts';
import { sampleRun, sampleSitting, sampleSuite } from './samples.ts';

/** A sealed sitting of bench-a, with what its report is written from. */
export function sampleStorySitting(
  changes: Partial<StorySitting> = {},
  sitting: Partial<Sitting> = {},
): StorySitting {
  return {
    rig: 'bench-a',
    sitting: sampleSitting(sitting),
    runs: [sampleRun()],
    corrections: [],
    isSealed: true,
    isSealChecked: true,
    ...changes,
  };
}

/** Two benches of the Harbour Lane co-op (invented), nothing odd about them but what `sampleComparison` has. */
export function sampleStory(changes: Partial<StoryFacts> = {}): StoryFacts {
  return {
    rigs: ['bench-a', 'bench-b'].map((label) => ({
      label,
      title: label,
      levels: {},
      sittings: [`${label}-1`],
    })),
    suite: sampleSuite(),
    comparison: sampleComparison(),
    effects: null,
    worth: null,
    metrics: [],
    sittings: [sampleStorySitting(), sampleStorySitting({ rig: 'bench-b' })],
    notes: [],
    ...changes,
  };
}
