const orders: Readonly<Record<string, (one: HTMLElement, other: HTMLElement) => number>> = {
  ratio: (one, other) => numberOf(other, 'ratio') - numberOf(one, 'ratio'),
  value: (one, other) => numberOf(other, 'value') - numberOf(one, 'value'),
  listed: (one, other) => numberOf(one, 'rig') - numberOf(other, 'rig'),
};

function numberOf(row: HTMLElement, name: string): number {
  const text = row.dataset[name] ?? '';
  return text === '' ? Number.NEGATIVE_INFINITY : Number(text);
}

/** What the reader has chosen; kept so that another baseline is shown the same way. */
const choices = { order: '', text: '', verdict: '' };

function sortRows(): void {
  const { order } = choices;
  const compare = orders[order];
  if (compare === undefined) return;
  for (const body of all('table.strips tbody'))
    body.append(...all<HTMLElement>('tr', body).sort(compare));
  announce(order === 'listed' ? 'Rigs as they are listed' : `Rigs by ${order}, highest first`);
}

/** Only figures whose workload fits the text, and that have the verdict somewhere. */
function filterCharts(): void {
  const { text, verdict } = choices;
  const wanted = text.trim().toLowerCase();
  const charts = all<HTMLElement>('figure.chart[data-metric]');
  let shown = 0;
  for (const chart of charts) {
    const metric = data.metrics[Number(chart.dataset['metric'])];
    const name = `${metric?.name} ${metric?.workload}`.toLowerCase();
    const fits =
      name.includes(wanted) &&
      (verdict === '' || chart.querySelector(`.verdict.is-${verdict}`) !== null);
    chart.classList.toggle('hidden', !fits);
    if (fits) shown += 1;
  }
  announce(`${shown} of ${charts.length} charts shown`);
}
