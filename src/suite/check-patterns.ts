import { RE2JS } from 're2js';
import type { Fault } from './describe-issue.ts';
import type { Path } from './place.ts';
import type { WrittenProgram, WrittenWorkload } from './written.ts';

// Compiling takes up to 40 microseconds a character; a suite of any use has some hundred characters of patterns.
const mostCharacters = 10_000;

interface Pattern {
  readonly path: Path;
  readonly pattern: string;
}

/** Whether each pattern of a suite is one that takes linear time (RE2 syntax) and has a group. */
export function checkPatterns(
  workloads: ReadonlyMap<number, WrittenWorkload>,
  programs: Readonly<Record<string, WrittenProgram>>,
): readonly Fault[] {
  const ofMetrics = [...workloads].flatMap(([index, { metrics = {} }]) =>
    Object.entries(metrics).flatMap(([id, metric]): Pattern[] => {
      const path = ['workloads', index, 'metrics', id, 'pattern'];
      return metric.from === 'pattern' ? [{ path, pattern: metric.pattern }] : [];
    }),
  );
  const ofPrograms = Object.entries(programs).flatMap(([name, { version }]): Pattern[] => {
    const path = ['programs', name, 'version', 'pattern'];
    return version === undefined ? [] : [{ path, pattern: version.pattern }];
  });
  const patterns = [...ofPrograms, ...ofMetrics];
  let characters = 0;
  for (const { path, pattern } of patterns) {
    characters += pattern.length;
    const message = `with \`pattern\` the suite has more than ${mostCharacters} characters of patterns; expected fewer`;
    if (characters > mostCharacters) return [{ path, at: 'value', message }];
  }
  return patterns.flatMap(({ path, pattern }) => {
    const message = patternFault(pattern);
    return message === null ? [] : [{ path, at: 'value' as const, message }];
  });
}

function patternFault(pattern: string): string | null {
  try {
    if (RE2JS.compile(pattern).groupCount() > 0) return null;
    return '`pattern` has no group; put what is wanted in brackets, as in `Score: ([0-9.]+)`';
  } catch (cause) {
    const why = cause instanceof Error ? cause.message.replace(/^error parsing regexp: /, '') : '';
    return `\`pattern\` is no regular expression that takes linear time (RE2 syntax): ${why}`;
  }
}
