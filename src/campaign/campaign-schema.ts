import { z } from 'zod';
import { duration, either, id, mapOf, oneOf, percent, text, wholeNumber } from '../suite/fields.ts';
import { money, price } from './money-schema.ts';
import type {
  WrittenCampaign,
  WrittenCondition,
  WrittenFactor,
  WrittenPart,
  WrittenQuestion,
  WrittenRig,
} from './written.ts';

const title = text('a title', 120);
const level = text('a level', 60);
const levelsError = 'a list of 1 to 20 levels';
const switchError = { error: '`true` or `false`' };

const factor: z.ZodType<WrittenFactor> = mapOf({
  title: title.describe('Title for people.'),
  levels: z
    .array(level, { error: levelsError })
    .min(1, { error: levelsError })
    .max(20, { error: levelsError })
    .describe('What it may be; the first is the reference.'),
});

const idsError = 'a list of at most 50 ids of `parts`';
const partIds = z.array(id, { error: idsError }).max(50, { error: idsError });

const part: z.ZodType<WrittenPart> = mapOf({
  role: text('what the part is, such as `board`,', 60).describe(
    'What it is in the machine, such as `board`, `memory` or `case`.',
  ),
  name: text('a name', 120).describe('Name for people.'),
  price: price.optional().describe('What it costs; left out where nobody knows.'),
  owned: z
    .boolean(switchError)
    .default(false)
    .describe("Counts in the machine's value, not in what is still to be paid."),
  affects: oneOf(['performance', 'nothing'])
    .default('performance')
    .describe('A part that affects nothing may be replaced on paper.'),
  alternatives: partIds
    .default([])
    .describe('Parts of its role that affect nothing either and may stand for it on paper.'),
});

const rig: z.ZodType<WrittenRig> = mapOf({
  title: title.optional().describe('Title for people; left out, the label.'),
  levels: z
    .record(id, level, { error: 'a map of factors to levels' })
    .default({})
    .describe('A level for each factor.'),
  parts: partIds.default([]).describe('What it is built from; a part may stand more than once.'),
  expect: z
    .record(z.string(), text('what the inventory should say', 200), {
      error: 'a map of readings of the inventory, such as `memory.total`, to values',
    })
    .default({})
    .describe('What the inventory should say, such as `memory.total: 16 GiB`.'),
});

const condition: z.ZodType<WrittenCondition> = mapOf({
  prompt: text('what the operator is asked', 200).describe('What the operator is asked.'),
  kind: oneOf(['temperature', 'text']).default('text').describe('What the answer is.'),
});

const factorId = id.describe('Id of a factor.');

const question: z.ZodType<WrittenQuestion> = either(
  [
    mapOf({ rig: id.describe('Is this rig another than the baseline?') }),
    mapOf({ effect: id.describe('What does this factor do, over the levels of the others?') }),
    mapOf({
      interaction: z
        .array(factorId, { error: 'a list of two factors' })
        .length(2, { error: 'a list of two factors' })
        .describe("Does one factor's effect depend on the other?"),
    }),
  ],
  'a map with one of `rig`, `effect`, `interaction`',
);

function namesTo<T>(
  item: z.ZodType<T>,
  what: string,
  most: number,
): z.ZodType<Readonly<Record<string, T>>> {
  const error = `a map of at most ${most} ${what}`;
  const tooMany = `more than ${most} ${what}; expected fewer`;
  return z
    .record(id, item, { error })
    .refine((map) => Object.keys(map).length <= most, { error: tooMany });
}

const rigsError = 'a map of labels to rigs, at least one';
const questionsError = 'a list of 1 to 100 questions';

/** What is measured and how often. */
const procedure = {
  suite: text('the name of a shipped suite, or a path relative to this file,', 1024).describe(
    'What is run: a shipped suite, or a file, relative to this one.',
  ),
  profile: id.optional().describe('Another form that the suite has, such as a shortened one.'),
  baseline: id.describe('Label of the rig that the others are compared with.'),
  sittings: wholeNumber(1, 100).default(3).describe('Sittings of each rig.'),
  assemblies: wholeNumber(1, 100)
    .default(1)
    .describe('How often each rig is built anew; its sittings are spread over that.'),
  'return-to-baseline': z
    .boolean(switchError)
    .default(true)
    .describe('The baseline is measured again at the end.'),
  'difference-that-matters': percent(['0.01 %', '50 %'])
    .optional()
    .describe("Smaller differences count as equivalent; left out, the suite's."),
  'swap-time': duration(['0 s', '24 h'])
    .default('20 min')
    .describe('What building one rig into the next takes, for the estimate of the time.'),
  seed: wholeNumber(0, 2 ** 32 - 1)
    .default(1)
    .describe('Decides the order of the rigs between the baselines.'),
};

/** The whole file. */
export const campaignSchema: z.ZodType<WrittenCampaign> = mapOf({
  campaign: id.describe('Name of the campaign: lower-case letters, digits and hyphens.'),
  title: title.describe('Title for people.'),
  question: text('what is to be answered, in your words,', 400).describe(
    'What is to be answered, in your words.',
  ),
  invented: z
    .boolean(switchError)
    .default(false)
    .describe('Invented data: every screen and file made of it says so.'),
  ...procedure,
  factors: namesTo(factor, 'factors', 8)
    .default({})
    .describe('What is varied between rigs, by id, each with its levels.'),
  parts: namesTo(part, 'parts', 500).default({}).describe('What rigs are built from, by id.'),
  rigs: namesTo(rig, 'rigs', 100)
    .refine((rigs) => Object.keys(rigs).length > 0, { error: `no rig; expected ${rigsError}` })
    .describe('The machines as they will be built, by label.'),
  conditions: namesTo(condition, 'conditions', 20)
    .default({})
    .describe('What the operator is asked before each sitting, by id.'),
  questions: z
    .array(question, { error: questionsError })
    .min(1, { error: questionsError })
    .max(100, { error: questionsError })
    .optional()
    .describe('What is to be answered; left out, whether each rig is another than the baseline.'),
  money: money.describe('Currencies, rates of exchange, price of energy.'),
});
