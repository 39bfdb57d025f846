import { catalogLabel } from '../model/rules/catalog-label.ts';

/** What a path of the facts of a rig is called for people. */
export function factTitle(path: string): string {
  const [section = '', ...rest] = path.split('.');
  const name = rest.join('.');
  if (section === 'levels') return `factor ${name}`;
  if (section === 'program') return name;
  if (path === 'tool.version') return 'steadyrig';
  if (path === 'conditions.ambient') return 'room temperature';
  return catalogLabel(path);
}
