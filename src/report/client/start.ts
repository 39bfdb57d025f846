function addPageTools(): void {
  const tools = document.getElementById('page-tools');
  if (tools === null) return;
  tools.append(
    choice(
      'Colours',
      [
        ['', 'as the system'],
        ['light', 'light'],
        ['dark', 'dark'],
      ],
      (theme) => {
        if (theme === '') delete document.documentElement.dataset['theme'];
        else document.documentElement.dataset['theme'] = theme;
      },
    ),
    button('Download all runs as CSV', () =>
      saveFile('runs.csv', 'text/csv;charset=utf-8', runsCsv()),
    ),
  );
  tools.hidden = false;
}

function addChartTools(): void {
  const tools = document.getElementById('tools');
  if (tools === null) return;
  if (data.baselines.length > 1) {
    const rigs = data.baselines.map(({ rig }) => [String(rig), data.rigs[rig] ?? ''] as const);
    const note = make(
      'p',
      { id: 'baseline-note', class: 'quiet hidden' },
      'Sentences, the table of all verdicts, effects and prices on this page are about the baseline that the report was made with.',
    );
    tools.append(
      choice('Baseline of the charts', rigs, (rig) => {
        chooseBaseline(Number(rig));
        sortRows();
        filterCharts();
        announce(`Charts are against ${data.rigs[Number(rig)] ?? ''}`);
      }),
    );
    tools.after(note);
  }
  tools.append(
    choice(
      'Order of the rigs',
      [
        ['ratio', 'by ratio'],
        ['value', 'by value'],
        ['listed', 'as listed'],
      ],
      (order) => {
        choices.order = order;
        sortRows();
      },
    ),
  );
  const text = make('input', { type: 'search', placeholder: 'part of a name' });
  text.addEventListener('input', () => {
    choices.text = text.value;
    filterCharts();
  });
  tools.append(make('label', {}, 'Workloads', text));
  const verdicts = [['', 'all'], ...verdictWords.map((one) => [one, one] as const)] as const;
  tools.append(
    choice('With a verdict', verdicts, (verdict) => {
      choices.verdict = verdict;
      filterCharts();
    }),
    excludedBox(),
    make(
      'p',
      { class: 'quiet' },
      'To read the runs behind a bar, point at it, or go to it with the Tab key and on with the arrow keys. Escape closes them.',
    ),
  );
  tools.hidden = false;
}

function excludedBox(): HTMLLabelElement {
  const box = make('input', { type: 'checkbox' });
  box.checked = true;
  box.addEventListener('change', () => {
    document.documentElement.classList.toggle('hide-excluded', !box.checked);
    announce(box.checked ? 'Excluded runs are shown' : 'Excluded runs are hidden');
  });
  return make('label', { class: 'check' }, box, 'show excluded runs');
}

function addTableTools(): void {
  for (const table of all<HTMLTableElement>('table')) {
    const box = table.closest('.scroll');
    if (box === null) continue;
    const name = table.caption?.textContent?.trim() ?? 'table';
    const copy = button('Copy as CSV', () => void copyText(csvOf(rowsToCopy(table)), copy));
    copy.setAttribute('aria-label', `Copy as CSV: ${name}`);
    const tools = make('div', { class: 'tools copy' }, copy);
    const figure = table.closest<HTMLElement>('figure.chart');
    if (figure !== null) tools.append(downloadButton(figure, name));
    box.after(tools);
  }
  for (const figure of all<HTMLElement>('figure.drawn'))
    figure.append(
      make(
        'div',
        { class: 'tools copy' },
        downloadButton(figure, figure.dataset['name'] ?? 'chart'),
      ),
    );
}

function downloadButton(figure: HTMLElement, name: string): HTMLButtonElement {
  const file = fileName(figure.dataset['name'] ?? 'chart', '.svg');
  const made = button('Download as SVG', () => saveFile(file, 'image/svg+xml', chartSvg(figure)));
  made.setAttribute('aria-label', `Download as SVG: ${name}`);
  return made;
}

function addMethodTools(): void {
  const method = document.getElementById('method-text');
  if (method === null) return;
  const copy = button('Copy the method statement', () => {
    const text = all('p', method)
      .map((one) => one.textContent ?? '')
      .join('\n\n');
    void copyText(text, copy);
  });
  method.after(make('div', { class: 'tools copy' }, copy));
}

addPageTools();
addChartTools();
addTableTools();
addMethodTools();
followStrips();
addEventListener('beforeprint', () => {
  for (const details of all<HTMLDetailsElement>('details')) details.open = true;
});
