/** The runs behind a bar, while it is pointed at or has the focus. */
function showRuns(strip: HTMLElement): void {
  const panel = document.getElementById('runs-panel');
  const rig = strip.closest('tr')?.dataset['rig'];
  const metric = data.metrics[Number(strip.closest<HTMLElement>('figure')?.dataset['metric'])];
  if (panel === null || rig === undefined || metric === undefined) return;
  const runs = metric.runs[rig] ?? [];
  const sittings = [...new Set(runs.map(([sitting]) => sitting))];
  const title = make('b', {}, `${data.rigs[Number(rig)] ?? ''}, ${metric.name}`);
  const lists = sittings.map((sitting) => {
    const own = runs.filter(([place]) => place === sitting);
    return make(
      'li',
      {},
      `${data.sittings[sitting] ?? ''}: ${own.map((run) => runText(run, metric)).join('; ')}`,
    );
  });
  panel.replaceChildren(title, ` (${metric.symbol || 'pure number'})`, make('ul', {}, ...lists));
  panel.hidden = false;
}

function runText([, , value, excluded, marks]: RunEntry, { factor }: MetricData): string {
  const scaled = value / factor;
  const text =
    Math.abs(scaled) >= 1e5 || Math.abs(scaled) < 1e-3
      ? String(scaled)
      : String(Number(scaled.toPrecision(5)));
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
