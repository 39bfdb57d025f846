const svgSpace = 'http://www.w3.org/2000/svg';

function svgElement(
  tag: string,
  attributes: Readonly<Record<string, string>>,
  text = '',
): SVGElement {
  const element = document.createElementNS(svgSpace, tag);
  for (const [name, value] of Object.entries(attributes)) element.setAttribute(name, value);
  element.textContent = text;
  return element;
}

/** A chart as a picture of its own: one that is drawn as it is, one that is a table put together from its rows. */
function chartSvg(figure: HTMLElement): string {
  const drawn = figure.querySelector('svg');
  const picture =
    figure.classList.contains('drawn') && drawn !== null
      ? (drawn.cloneNode(true) as SVGElement)
      : composed(figure);
  picture.setAttribute('xmlns', svgSpace);
  // Its light letters were drawn for a dark page, or the other way round.
  picture.prepend(svgElement('rect', { width: '100%', height: '100%', fill: 'var(--paper)' }));
  const style = getComputedStyle(document.documentElement);
  const text = new XMLSerializer().serializeToString(picture);
  // Colours are custom properties on the page; a file of its own needs the colours themselves.
  return text.replace(/var\((--[a-z-]+)\)/g, (_, name: string) =>
    style.getPropertyValue(name).trim(),
  );
}

function composed(figure: HTMLElement): SVGElement {
  const width = 1280;
  const rows = all<HTMLElement>('tbody tr', figure);
  const height = 110 + rows.length * 46;
  const svg = svgElement('svg', {
    viewBox: `0 0 ${width} ${height}`,
    width: String(width),
    height: String(height),
    'font-family': '"Source Sans 3", "Source Sans Pro", sans-serif',
  });
  const caption = figure.querySelector<HTMLElement>('caption');
  svg.append(line(30, 42, caption === null ? '' : cellText(caption), 26, 'var(--ink)'));
  const direction =
    figure.querySelector('.figure-cell .direction')?.textContent ?? 'higher is better →';
  svg.append(line(250, 80, direction, 17, 'var(--quiet)'));
  const invented = document.querySelector('.invented') !== null;
  if (invented) svg.append(line(width - 30, 42, 'INVENTED DATA', 22, 'var(--worse)', 'end'));
  for (const [at, row] of rows.entries()) svg.append(...composedRow(row, 96 + at * 46));
  return svg;
}

function line(
  x: number,
  y: number,
  text: string,
  size: number,
  fill: string,
  anchor = 'start',
): SVGElement {
  return svgElement(
    'text',
    { x: String(x), y: String(y), 'font-size': String(size), fill, 'text-anchor': anchor },
    text,
  );
}

function composedRow(row: HTMLElement, top: number): SVGElement[] {
  const parts = [
    line(30, top + 26, cellText(row.querySelector<HTMLElement>('.rig') ?? row), 20, 'var(--ink)'),
  ];
  const plot = row.querySelector('.strip-plot, .ratio-plot');
  if (plot !== null) {
    const copy = plot.cloneNode(true) as SVGElement;
    for (const [name, value] of [
      ['x', '250'],
      ['y', String(top)],
      ['width', '560'],
      ['height', '34'],
    ] as const)
      copy.setAttribute(name, value);
    paint(copy);
    parts.push(copy);
  }
  const value = row.querySelector<HTMLElement>('.value-text');
  parts.push(line(1030, top + 26, value === null ? '' : cellText(value), 17, 'var(--ink)', 'end'));
  const ratio = [...all<HTMLElement>('.ratio-text, .verdict-text', row)].map(cellText).join('  ');
  parts.push(line(1050, top + 26, ratio, 17, 'var(--ink)'));
  return parts;
}

/** What the style sheet says of the marks, since a file of its own has none. */
function paint(plot: SVGElement): void {
  const looks: Readonly<Record<string, Readonly<Record<string, string>>>> = {
    path: { fill: 'none', 'vector-effect': 'non-scaling-stroke', 'stroke-linecap': 'butt' },
    '.bar': { fill: 'var(--bar)' },
    '.mean': { stroke: 'var(--mean)', 'stroke-width': '3' },
    '.interval': { stroke: 'var(--ink)', 'stroke-width': '1.5' },
    '.runs': { stroke: 'var(--dot)', 'stroke-width': '4.4', 'stroke-linecap': 'round' },
    '.out': { stroke: 'var(--worse)', 'stroke-width': '6.5', 'stroke-linecap': 'round' },
    '.core': { stroke: 'var(--paper)', 'stroke-width': '3.5' },
    '.dot': { stroke: 'var(--mean)', 'stroke-width': '9', 'stroke-linecap': 'round' },
  };
  for (const [selector, attributes] of Object.entries(looks))
    for (const element of all(selector, plot))
      for (const [name, value] of Object.entries(attributes)) element.setAttribute(name, value);
  if (document.documentElement.classList.contains('hide-excluded'))
    for (const element of all('.out', plot)) element.remove();
}
