import { verdictSigns } from '../comparison/verdict-text.ts';
import type { PageAssets } from './render-page.ts';

/** The page's one style sheet; `band` is where on the ratio axes differences do not matter, in percent; `rows` how many a chart has. Colours: Okabe and Ito's palette, darkened or lightened for text to a contrast of 4.5 (WCAG 2.2 AA). */
export function pageStyle(
  { regular, semibold }: PageAssets['fonts'],
  band: { readonly from: number; readonly to: number },
  rows: number,
): string {
  const edges = `:root{--band-from:${band.from.toFixed(2)}%;--band-to:${band.to.toFixed(2)}%;--rows:${rows}}\n`;
  // Signs are here and not in each of thousands of cells; a screen reader has the word beside them.
  const signs = Object.entries(verdictSigns).map(
    ([verdict, sign]) => `.is-${verdict}{--sign:"${sign}"}\n`,
  );
  return `${fontFace(400, regular)}${fontFace(600, semibold)}${edges}${signs.join('')}${sheet}`;
}

function fontFace(weight: number, base64: string): string {
  return `@font-face{font-family:"Source Sans 3";font-weight:${weight};font-display:swap;src:url(data:font/woff2;base64,${base64}) format("woff2")}\n`;
}

const light = `
--paper:#fff;--ground:#f6f6f3;--ink:#1c1d1f;--quiet:#5b5f66;--line:#d6d7d3;--hair:#ececE8;
--bar:#cfe1ef;--bar-base:#dcdcd8;--mean:#0072b2;--dot:#1c1d1f;--band:#e9e6da;
--better:#005b8f;--worse:#a84700;--equivalent:#00704f;--undecided:#5b5f66;--mark:#fbeec2;--warn:#fbeec2;--warn-ink:#4d3b00;`;
const dark = `
--paper:#17181a;--ground:#101113;--ink:#eceae4;--quiet:#a8aaae;--line:#3a3c40;--hair:#26282b;
--bar:#1f4560;--bar-base:#3d3e40;--mean:#56b4e9;--dot:#eceae4;--band:#2c2a22;
--better:#7cc7f2;--worse:#f2a066;--equivalent:#5fd3b0;--undecided:#a8aaae;--mark:#55481a;--warn:#55481a;--warn-ink:#fff3cd;`;

const sheet = `
:root{color-scheme:light dark;${light}}
@media (prefers-color-scheme:dark){:root{${dark}}}
:root[data-theme=light]{color-scheme:light;${light}}
:root[data-theme=dark]{color-scheme:dark;${dark}}
*{box-sizing:border-box}
html:has(#runs-panel:not([hidden])){scroll-padding-bottom:46vh}
html{scroll-behavior:smooth;scroll-padding-top:1rem;-webkit-text-size-adjust:100%}
@media (prefers-reduced-motion:reduce){html{scroll-behavior:auto}}
body{margin:0;background:var(--ground);color:var(--ink);font:400 clamp(1rem,.9rem + .2vw,1.35rem)/1.5 "Source Sans 3",system-ui,sans-serif;font-variant-numeric:tabular-nums}
header,main{max-width:min(94rem,100%);margin:0 auto;padding:0 clamp(.75rem,3vw,3rem)}
header{padding-top:1.5rem}
h1{font-size:1.9em;line-height:1.15;margin:.3em 0 .2em;font-weight:600;text-wrap:balance}
h2{font-size:1.35em;line-height:1.2;margin:0 0 .6em;font-weight:600}
h3{font-size:1em;margin:1em 0 .3em;font-weight:600}
p{margin:.5em 0;max-width:75ch}
a{color:var(--better)}
a:focus-visible,button:focus-visible,select:focus-visible,input:focus-visible,summary:focus-visible,[tabindex]:focus-visible{outline:3px solid var(--mean);outline-offset:2px}
.skip{position:absolute;left:-999px}.skip:focus{position:static}
.quiet{color:var(--quiet);font-weight:400}
header .quiet{max-width:none}
.tag{font-size:.78em;border:1px solid var(--line);border-radius:3px;padding:0 .35em;color:var(--quiet);font-weight:400}
.invented{background:var(--warn);color:var(--warn-ink);padding:.5em .8em;border-radius:4px;max-width:none}
nav ul{display:flex;flex-wrap:wrap;gap:.2em 1.2em;list-style:none;padding:0;margin:1em 0}
main section>:last-child{margin-bottom:0}
section{background:var(--paper);border:1px solid var(--line);border-radius:6px;padding:clamp(.8rem,2vw,1.6rem);margin:0 0 1.2rem}
.question{font-size:1.15em;font-style:italic}
.answer p{font-size:1.15em;max-width:70ch}
.answer p:first-child{font-weight:600}
.tools{display:flex;flex-wrap:wrap;gap:.5em 1em;align-items:end;margin:.8em 0}
.tools[hidden]{display:none}
#tools .quiet{flex-basis:100%;max-width:none;font-size:.9em;margin:0}
.tools label{display:flex;flex-direction:column;font-size:.85em;color:var(--quiet)}
.tools label.check{flex-direction:row;align-items:center;gap:.4em}
button,select,input{font:inherit;color:inherit;background:var(--paper);border:1px solid var(--quiet);border-radius:4px;padding:.2em .6em;min-height:2em}
input[type=checkbox]{min-height:0;width:1.1em;height:1.1em}
button{cursor:pointer}
button:hover{background:var(--hair)}
.copy{gap:.2em 1em;margin:.2em 0 .6em}
.copy button{font-size:.88em;color:var(--better);border-color:transparent;margin-left:-.6em}
.copy button:hover{border-color:var(--line)}
.scroll{overflow-x:auto;max-width:100%}
table{border-collapse:collapse;width:100%}
table.data th,table.data td{min-width:5.5em}
table.data .long{min-width:16em}
table.data{margin:.6em 0;font-size:.92em}
caption{text-align:left;padding:.3em 0;color:var(--ink)}
table.data caption{font-weight:600}
th,td{text-align:left;vertical-align:top;padding:.3em .7em .3em 0;border-top:1px solid var(--hair);font-weight:400}
thead th{color:var(--quiet);font-size:.88em;vertical-align:bottom;border-top:0}
tbody th{font-weight:600}
.number{text-align:right;white-space:nowrap}
code{font-size:.85em;overflow-wrap:anywhere}
code.seal{font-size:.7em}
mark{background:var(--mark);color:inherit;padding:0 .2em}
tr.undeclared th{border-left:4px solid var(--worse);padding-left:.5em}
tr.differs:not(.undeclared) th{border-left:4px solid transparent;padding-left:.5em}
figure.chart{margin:0 0 1.4rem;content-visibility:auto;contain-intrinsic-size:auto calc(8rem + 2.7rem*var(--rows))}
figure.drawn{contain-intrinsic-size:auto 24rem}
figure.drawn svg{width:100%;min-width:46rem;height:auto;max-height:90vh;display:block}
.courses figure.drawn svg{min-width:34rem}
figure.drawn .scroll{padding-top:.3em}
.courses h3{font-weight:400;color:var(--quiet);overflow-wrap:anywhere}
.courses{display:grid;grid-template-columns:repeat(auto-fill,minmax(min(34rem,100%),1fr));gap:1rem}
.columns{columns:2 32rem;column-gap:2.5rem}
.columns>*{break-inside:avoid}
.columns h3{margin-top:0}
.columns ul{margin:.2em 0 1em;padding-left:1.1em}
table.strips{table-layout:fixed;font-size:.95em}
table.strips th,table.strips td{vertical-align:middle;padding:.1em .8em .1em 0}
table.strips .rig{overflow-wrap:anywhere}
table.strips th:nth-child(1){width:14%}
table.strips .figure-cell{width:27%}
table.strips .ratio-cell{width:18%}
table.strips th:nth-child(3){width:15%}
table.strips.index .ratio-cell{width:56%}
.value-text,.ratio-value{line-height:1.2}
.direction{display:block;text-align:right}
.verdict-cell{line-height:1.2}
.remarks{display:block;font-size:.82em}
svg{overflow:visible}
.strip-plot,.ratio-plot{display:block;width:100%;height:34px;fill:none}
.axis{display:block;width:100%}
.strip-plot path,.ratio-plot path{vector-effect:non-scaling-stroke}
.ratio-plot{background:linear-gradient(var(--quiet),var(--quiet)) 50%/1px 100% no-repeat,linear-gradient(to right,transparent var(--band-from),var(--band) var(--band-from) var(--band-to),transparent var(--band-to))}
.axis text{font-size:.75em;fill:var(--quiet)}
.axis line{stroke:var(--quiet)}
.bar{fill:var(--bar)}
tr.baseline .bar{fill:var(--bar-base)}
.mean{stroke:var(--mean);stroke-width:3}
tr.baseline .mean{stroke:var(--quiet)}
.interval{stroke:var(--ink);stroke-width:1.5}
.runs,.out,.dot{stroke-linecap:round}
.runs{stroke:var(--dot);stroke-width:4.4;stroke-opacity:.75}
.out{stroke:var(--worse);stroke-width:6.5}
.core{stroke:var(--paper);stroke-width:3.5}
.dot{stroke:var(--mean);stroke-width:9}
.hide-excluded .out{display:none}
.beyond{stroke-width:3}
.strip:hover{background:var(--hair)}
.verdict{font-weight:600;white-space:nowrap}
.is-better{color:var(--better)}.is-worse{color:var(--worse)}.is-equivalent{color:var(--equivalent)}.is-undecided,.is-none,.is-baseline{color:var(--undecided)}
.is-none,.is-baseline{font-weight:400}
.verdict::before{content:var(--sign);content:var(--sign)/"";margin-right:.3em;display:inline-block;min-width:1.1em;text-align:center;border:1.5px solid currentColor;border-radius:3px;line-height:1.1}
.is-none::before,.is-baseline::before{display:none}
.hidden{display:none!important}
#runs-panel{position:fixed;left:0;right:0;bottom:0;max-height:45vh;overflow:auto;background:var(--paper);border-top:2px solid var(--mean);padding:.6em clamp(.75rem,3vw,3rem);font-size:.9em;box-shadow:0 -4px 16px #0003}
#runs-panel[hidden]{display:none}
#runs-panel ul{margin:.2em 0;padding-left:1.1em}
details>summary{cursor:pointer;padding:.3em 0;color:var(--better)}
.remark-texts{display:grid;grid-template-columns:max-content 1fr;gap:.2em 1em;max-width:90ch}
.remark-texts dd{margin:0}
@media (max-width:46rem){
table.data tbody th{position:sticky;left:0;background:var(--paper);max-width:45vw;overflow-wrap:break-word}
.remark-texts{display:block}
.remark-texts dd{margin:0 0 .4em 1em}
}
@media screen and (max-width:56rem){
figure.chart{contain-intrinsic-size:auto calc(10rem + 7.6rem*var(--rows))}
table.strips,table.strips tbody,table.strips thead,table.strips caption{display:block;width:100%}
table.strips thead tr{display:grid;grid-template-columns:1fr;gap:0}
table.strips thead th:not(.figure-cell):not(.ratio-cell){display:none}
table.strips thead th.ratio-cell,table.strips thead th.figure-cell{display:block;width:100%!important}
table.strips tbody tr{display:grid;grid-template-columns:1fr auto;grid-template-areas:"rig verdict" "strip strip" "value ratio" "zoom zoom";border-top:1px solid var(--line);padding:.35em 0;column-gap:1em}
table.strips.index tbody tr{grid-template-areas:"rig ratio" "value value" "zoom zoom"}
table.strips tbody th,table.strips tbody td{border:0;width:auto!important;padding:.1em 0}
table.strips tbody .rig{grid-area:rig}
table.strips tbody .figure-cell{grid-area:strip}
table.strips tbody .value-text{grid-area:value;text-align:left}
table.strips tbody .ratio-cell{grid-area:zoom}
table.strips tbody td.number:not(.value-text){grid-area:ratio}
table.strips:not(.index) tbody .ratio-text::before{content:"ratio ";color:var(--quiet)}
table.strips.index tbody td.ratio-text{grid-area:ratio}
table.strips.index tbody td.interval-text{grid-area:value}
table.strips tbody .verdict-cell{grid-area:verdict;text-align:right}
}
@media (min-width:120rem){header,main{max-width:160rem}.columns{columns:3 30rem}}
@media print{
:root,:root[data-theme=dark]{color-scheme:light;${light}}
body{font-size:9.5pt;background:#fff}
nav,.tools,.copy,.skip,#runs-panel{display:none!important}
section{border:0;padding:0;break-inside:auto}
h2,h3,caption,summary{break-after:avoid}
p{orphans:3;widows:3}
.courses{grid-template-columns:1fr 1fr}
.courses>*{break-inside:avoid}
figure.drawn svg{max-height:11cm}
.strips th,.strips td,.data th,.data td{font-size:.92em}
figure.chart,tr{break-inside:avoid}
figure.chart{content-visibility:visible}
figure.drawn svg,.courses figure.drawn svg{min-width:0}
details>summary{list-style:none}
details::details-content{content-visibility:visible;display:block}
.scroll{overflow:visible}
*{-webkit-print-color-adjust:exact;print-color-adjust:exact}
}
`;
