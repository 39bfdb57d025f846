/** The runs behind a bar, while it is pointed at or has the focus. */
function showRuns(strip: HTMLElement): void {
  const panel = document.getElementById('runs-panel');
  const rig = strip.closest('tr')?.dataset['rig'];
  const metric = data.metrics[Number(strip.closest<HTMLElement>('figure')?.dataset['metric'])];
  if (panel === null || rig === undefined || metric === undefined) return;
  const title = make('b', {}, `${data.rigs[Number(rig)] ?? ''}, ${metric.name}`);
  const lists = (metric.runs[rig] ?? []).map(([sitting, ...values]) => {
    const texts = values.flatMap((value, at) =>
      value === null ? [] : [runText(value, oddOf(metric, Number(rig), sitting, at + 1), metric)],
    );
    return make('li', {}, `${data.sittings[sitting] ?? ''}: ${texts.join('; ')}`);
  });
  panel.replaceChildren(title, ` (${metric.symbol || 'pure number'})`, make('ul', {}, ...lists));
  panel.hidden = false;
}

function oddOf(
  { odd }: MetricData,
  rig: number,
  sitting: number,
  repeat: number,
): OddRun | undefined {
  return odd.find((one) => one[0] === rig && one[1] === sitting && one[2] === repeat);
}

function runText(value: number, odd: OddRun | undefined, { factor }: MetricData): string {
  const scaled = value / factor;
  const isPlain = Math.abs(scaled) < 1e5 && Math.abs(scaled) >= 1e-3;
  const text = isPlain ? String(Number(scaled.toPrecision(5))) : String(scaled);
  const [, , , excluded = null, marks = ''] = odd ?? [];
  const remarks = [marks, excluded === null ? '' : `excluded: ${excluded}`].filter(
    (part) => part !== '',
  );
  return remarks.length === 0 ? text : `${text} (${remarks.join(', ')})`;
}

function hideRuns(): void {
  const panel = document.getElementById('runs-panel');
  if (panel !== null) panel.hidden = true;
}

function followStrips(): void {
  for (const strip of all<HTMLElement>('.strip')) strip.tabIndex = 0;
  const stripOf = (event: Event): HTMLElement | null =>
    event.target instanceof Element ? event.target.closest<HTMLElement>('.strip') : null;
  for (const kind of ['pointerover', 'focusin'])
    document.addEventListener(kind, (event) => {
      const strip = stripOf(event);
      if (strip !== null) showRuns(strip);
      else if (kind === 'focusin' || document.activeElement?.closest('.strip') == null) hideRuns();
    });
  document.addEventListener('keydown', (event) => {
    if (event.key === 'Escape') hideRuns();
  });
}
