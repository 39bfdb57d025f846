/** Shows every ratio against another rig. Means and runs stay as they are. */
function chooseBaseline(place: number): void {
  const chosen = data.baselines.find(({ rig }) => rig === place);
  if (chosen === undefined) return;
  for (const name of all('.baseline-name')) name.textContent = data.rigs[place] ?? '';
  for (const chart of all<HTMLElement>('figure.chart[data-metric]'))
    for (const row of all<HTMLElement>('tbody tr', chart)) {
      const rig = Number(row.dataset['rig']);
      showRatio(
        row,
        rig === place ? null : chosen.rows[`${chart.dataset['metric']} ${rig}`],
        rig === place,
      );
    }
  for (const row of all<HTMLElement>('table.index tbody tr')) {
    const rig = Number(row.dataset['rig']);
    showRatio(row, rig === place ? null : chosen.index[rig], rig === place);
  }
  const note = document.getElementById('baseline-note');
  note?.classList.toggle('hidden', place === data.baselines[0]?.rig);
}

function showRatio(
  row: HTMLElement,
  entry: RatioEntry | null | undefined,
  isBaseline: boolean,
): void {
  const [ratio, low, high, ratioText, intervalText, verdict] = entry ?? [
    isBaseline ? 1 : null,
    null,
    null,
    isBaseline ? '1' : '–',
    '',
    null,
  ];
  row.classList.toggle('baseline', isBaseline);
  row.dataset['ratio'] = ratio === null ? '' : String(ratio);
  setText(row, '.ratio-text', ratioText);
  setText(row, '.interval-text', intervalText);
  setText(row, '.remarks', '');
  const head = row.querySelector('.rig');
  head?.querySelector('.tag')?.remove();
  if (isBaseline) head?.append(' ', make('span', { class: 'tag' }, 'baseline'));
  const mark = row.querySelector('.verdict-text');
  if (mark !== null) mark.replaceChildren(verdictOf(verdict, isBaseline));
  drawRatio(row, ratio, low, high);
}

function setText(row: HTMLElement, selector: string, text: string): void {
  const found = row.querySelector(selector);
  if (found !== null) found.textContent = text;
}

const verdictWords = ['better', 'worse', 'equivalent', 'undecided'];

function verdictOf(verdict: string | null, isBaseline: boolean): HTMLElement {
  if (isBaseline) return make('span', { class: 'verdict is-baseline' }, 'baseline');
  if (verdict === null) return make('span', { class: 'verdict is-none' }, 'not compared');
  return make('span', { class: `verdict is-${verdict}` }, verdict);
}

/** On the grid of `page/strips.ts`, whose drawing this repeats. */
function ratioPlace(ratio: number): number {
  const share = ratio > 0 ? Math.log(ratio) / data.reach : -1;
  return Math.round(2000 + 2000 * Math.max(-1, Math.min(1, share)));
}

function drawRatio(
  row: HTMLElement,
  ratio: number | null,
  low: number | null,
  high: number | null,
): void {
  const plot = row.querySelector('.ratio-plot');
  const [left, right] = [ratioPlace(low ?? ratio ?? 1), ratioPlace(high ?? ratio ?? 1)];
  const interval = ratio === null ? '' : `M${left} 17H${right}${arrow(left)}${arrow(right)}`;
  const beyond = ratio === null ? '' : arrow(ratioPlace(ratio));
  const dot = ratio === null ? '' : beyond || `M${ratioPlace(ratio)} 17h0`;
  plot?.querySelector('.interval')?.setAttribute('d', interval);
  const mark = plot?.querySelector('.dot');
  mark?.setAttribute('d', dot);
  mark?.classList.toggle('beyond', beyond !== '');
}

function arrow(x: number): string {
  if (x <= 0) return 'M140 9L0 17L140 25';
  return x >= 4000 ? 'M3860 9L4000 17L3860 25' : '';
}
