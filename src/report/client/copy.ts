/** RFC 4180. */
function csvOf(rows: readonly (readonly string[])[]): string {
  const cell = (text: string): string =>
    /[",\r\n]/.test(text) ? `"${text.replace(/"/g, '""')}"` : text;
  return `${rows.map((row) => row.map(cell).join(',')).join('\r\n')}\r\n`;
}

function tableRows(table: HTMLTableElement): string[][] {
  return [...table.rows].map((row) => [...row.cells].map((cell) => cellText(cell)));
}

/** Pictures are for the eye only; lines of a cell become blanks. */
function cellText(cell: HTMLElement): string {
  const copy = cell.cloneNode(true) as HTMLElement;
  for (const picture of all('svg, .direction', copy)) picture.remove();
  for (const line of all('br', copy)) line.replaceWith(' ');
  return (copy.textContent ?? '').replace(/\s+/g, ' ').trim();
}

/** Of a chart the exact numbers, of other tables what is shown. */
function rowsToCopy(table: HTMLTableElement): readonly (readonly string[])[] {
  const figure = table.closest<HTMLElement>('figure[data-metric]');
  const metric = figure === null ? undefined : data.metrics[Number(figure.dataset['metric'])];
  if (metric === undefined) return tableRows(table);
  const heading = ['workload', 'metric', 'rig', 'unit', 'mean', 'ratio', 'interval', 'verdict'];
  const rows = all<HTMLElement>('tbody tr', table).map((row) => [
    metric.workload,
    metric.metric,
    data.rigs[Number(row.dataset['rig'])] ?? '',
    metric.unit,
    row.dataset['value'] ?? '',
    row.dataset['ratio'] ?? '',
    row.querySelector('.interval-text')?.textContent ?? '',
    cellText(row.querySelector<HTMLElement>('.verdict-text') ?? row),
  ]);
  return [heading, ...rows];
}

/** Copies, and says so beside the button as well as to a screen reader. */
async function copyText(text: string, pressed: HTMLElement): Promise<void> {
  const told = (await isCopied(text)) ? 'copied' : 'this browser does not let pages copy';
  const note = make('span', { class: 'quiet', 'aria-hidden': 'true' }, told);
  pressed.parentElement?.querySelector('[aria-hidden]')?.remove();
  pressed.after(note);
  setTimeout(() => note.remove(), 4000);
  announce(`${pressed.getAttribute('aria-label') ?? pressed.textContent ?? ''}: ${told}`);
}

async function isCopied(text: string): Promise<boolean> {
  try {
    await navigator.clipboard.writeText(text);
    return true;
  } catch {
    const area = make('textarea', { readonly: '' });
    area.value = text;
    document.body.append(area);
    area.select();
    const done = document.execCommand('copy');
    area.remove();
    return done;
  }
}

function runsCsv(): string {
  const rows = data.metrics.flatMap((metric) =>
    Object.entries(metric.runs).flatMap(([rig, groups]) =>
      groups.flatMap(([sitting, ...values]) =>
        values.flatMap((value, at) => {
          const odd = oddOf(metric, Number(rig), sitting, at + 1);
          return value === null
            ? []
            : [
                [
                  metric.workload,
                  metric.metric,
                  data.rigs[Number(rig)] ?? '',
                  data.sittings[sitting] ?? '',
                  String(at + 1),
                  String(value),
                  metric.unit,
                  odd?.[3] ?? '',
                  odd?.[4] ?? '',
                ],
              ];
        }),
      ),
    ),
  );
  const heading = 'workload,metric,rig,sitting,repeat,value,unit,excluded,marks'.split(',');
  return csvOf([heading, ...rows]);
}
