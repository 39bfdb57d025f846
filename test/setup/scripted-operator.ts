import type { Operator } from '../../src/runner/by-hand/operator.ts';

export interface ScriptedOperator extends Operator {
  /** Everything told and asked, in order. */
  readonly screen: string[];
  readonly asked: string[];
}

/** An operator who gives these answers in their order; a function acts and then has no answer. Then nothing more is typed. */
export function scriptedOperator(answers: readonly (string | (() => void))[]): ScriptedOperator {
  const screen: string[] = [];
  const asked: string[] = [];
  let next = 0;
  return {
    screen,
    asked,
    tell: (text) => void screen.push(text),
    async ask(prompt) {
      screen.push(prompt);
      asked.push(prompt);
      const answer = answers[next];
      next += 1;
      if (typeof answer !== 'function') return answer ?? null;
      answer();
      return null;
    },
  };
}
