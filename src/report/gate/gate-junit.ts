import { create } from 'xmlbuilder2';
import type { Gate, GateRow } from '../../model/gate.ts';
import { nameOf } from './gate-page.ts';

/** JUnit XML: a test case for each figure; worse and not comparable are failures, what cannot be told is skipped where it passes. */
export function renderGateJunit(gate: Gate): string {
  const { rows, suite } = gate;
  const isFailure = (row: GateRow): boolean =>
    row.finding === 'worse' ||
    row.finding === 'uncompared' ||
    (row.finding === 'unsure' && gate.whenUnsure === 'fail');
  const failures = rows.filter(isFailure).length;
  const skipped = rows.filter((row) => row.finding === 'unsure' && !isFailure(row)).length;
  const counts = {
    tests: String(rows.length),
    failures: String(failures),
    errors: '0',
    skipped: String(skipped),
  };
  const root = create({ version: '1.0', encoding: 'UTF-8', invalidCharReplacement: '\ufffd' }).ele(
    'testsuites',
    { name: 'steadyrig gate', ...counts },
  );
  const group = root.ele('testsuite', { name: suite.id, ...counts });
  for (const row of rows) {
    const place = row.line === null ? {} : { file: suite.file, line: String(row.line) };
    const test = group.ele('testcase', { classname: suite.id, name: nameOf(row), ...place });
    if (isFailure(row))
      test.ele('failure', { type: row.finding, message: row.text }).txt(details(gate, row));
    else if (row.finding === 'unsure') test.ele('skipped', { message: row.text });
    else test.ele('system-out').txt(row.text);
  }
  return `${root.end({ prettyPrint: true })}\n`;
}

function details({ suite, baseline, candidateSittings }: Gate, row: GateRow): string {
  const place = row.line === null ? suite.file : `${suite.file}:${row.line}`;
  return `${place}: ${nameOf(row)}: ${row.text}\nbaseline ${baseline ?? 'measured in turn'}; candidate sittings ${candidateSittings.join(', ')}`;
}
