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

let hiding = 0;

/** A moment later, so that the pointer can get to the panel, which may be longer than its window. */
function hideRunsSoon(): void {
  clearTimeout(hiding);
  hiding = setTimeout(() => {
    if (document.activeElement?.closest('.strip') == null) hideRuns();
  }, 400);
}

function stripAt(event: Event): HTMLElement | null {
  return event.target instanceof Element ? event.target.closest<HTMLElement>('.strip') : null;
}

function followStrips(): void {
  // One stop of the Tab key for each chart; from rig to rig by arrows.
  for (const body of all('table.strips tbody'))
    for (const [at, strip] of all<HTMLElement>('.strip', body).entries())
      strip.tabIndex = at === 0 ? 0 : -1;
  document.addEventListener('pointerover', (event) => {
    const strip = stripAt(event);
    if (strip !== null) clearTimeout(hiding);
    if (strip !== null) showRuns(strip);
    else if (event.target instanceof Element && event.target.closest('#runs-panel') !== null)
      clearTimeout(hiding);
    else hideRunsSoon();
  });
  document.addEventListener('focusin', (event) => {
    const strip = stripAt(event);
    if (strip === null) return;
    clearTimeout(hiding);
    showRuns(strip);
    strip.closest('tr')?.scrollIntoView({ block: 'nearest' });
  });
  document.addEventListener('focusout', (event) => {
    if (stripAt(event) !== null) hideRunsSoon();
  });
  document.addEventListener('keydown', (event) => {
    if (event.key === 'Escape') hideRuns();
    const strip = stripAt(event);
    if (strip !== null && moveFocus(strip, event.key)) event.preventDefault();
  });
}

/** To another strip of the same chart, in the order that is shown. */
function moveFocus(strip: HTMLElement, key: string): boolean {
  const strips = all<HTMLElement>('.strip', strip.closest('tbody') ?? document);
  const at = strips.indexOf(strip);
  const places: Readonly<Record<string, number>> = {
    ArrowDown: Math.min(strips.length - 1, at + 1),
    ArrowUp: Math.max(0, at - 1),
    Home: 0,
    End: strips.length - 1,
  };
  const next = strips[places[key] ?? -1];
  if (next === undefined) return false;
  strip.tabIndex = -1;
  next.tabIndex = 0;
  next.focus();
  return true;
}
