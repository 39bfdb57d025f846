import type { Report } from '../model/report.ts';

export interface CrateFile {
  /** Relative to the crate. */
  readonly path: string;
  readonly bytes: number;
  readonly encodingFormat: string;
}

/** `ro-crate-metadata.json` (RO-Crate 1.1): what the published folder holds, and which sittings and which tool it was made from. */
export function renderCrate(report: Report, files: readonly CrateFile[]): string {
  const { title, answer, madeAt, tool, invented, sources } = report;
  const parts = files.map(({ path }) => ({ '@id': encodeURI(path) }));
  const sittings = sources.map(({ sitting }) => ({ '@id': `#${sitting}` }));
  const graph = [
    {
      '@id': 'ro-crate-metadata.json',
      '@type': 'CreativeWork',
      conformsTo: { '@id': 'https://w3id.org/ro/crate/1.1' },
      about: { '@id': './' },
    },
    {
      '@id': './',
      '@type': 'Dataset',
      name: title,
      description: `${invented ? 'INVENTED DATA, for demonstration. ' : ''}${answer.join(' ')}`,
      datePublished: madeAt.slice(0, 10),
      license: 'Not stated: ask whoever published this folder',
      hasPart: parts,
      mentions: [{ '@id': '#report' }],
    },
    ...files.map(({ path, bytes, encodingFormat }) => ({
      '@id': encodeURI(path),
      '@type': 'File',
      name: path,
      contentSize: String(bytes),
      encodingFormat,
    })),
    {
      '@id': '#report',
      '@type': 'CreateAction',
      name: 'Report made from sealed sittings',
      endTime: madeAt,
      instrument: { '@id': '#steadyrig' },
      object: sittings,
      result: parts,
    },
    {
      '@id': '#steadyrig',
      '@type': 'SoftwareApplication',
      name: 'steadyrig',
      softwareVersion: tool,
    },
    ...sources.map(({ sitting, rig, startedAt, seal }) => ({
      '@id': `#${sitting}`,
      '@type': 'Dataset',
      name: sitting,
      description: `Sitting of the rig ${rig}${invented ? ' (invented)' : ''}, ${seal === null ? 'not sealed' : 'sealed; identifier: SHA-512 of its tagmanifest-sha512.txt'}`,
      dateCreated: startedAt,
      ...(seal === null ? {} : { identifier: seal }),
    })),
  ];
  const crate = { '@context': 'https://w3id.org/ro/crate/1.1/context', '@graph': graph };
  return `${JSON.stringify(crate, null, 2)}\n`;
}
