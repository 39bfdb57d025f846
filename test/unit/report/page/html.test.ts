import fc from 'fast-check';
import { expect, it } from 'vitest';
import { html, markup, visibleText } from '../../../../src/report/page/html.ts';

it('lets no text become markup, in text and in attributes, and loses none of it', () => {
  fc.assert(
    fc.property(fc.string({ unit: 'binary' }), (text) => {
      const made = html`<p title="${text}">${text}</p>`.text;
      const inner = made.slice('<p title="'.length, -'</p>'.length);
      expect(inner).not.toMatch(/<|'/);
      expect(inner.match(/"/g)).toHaveLength(1);
      expect(inner.match(/>/g)).toHaveLength(1);
      const shown = inner.slice(inner.indexOf('>') + 1);
      const back = shown.replace(
        /&(amp|lt|gt|quot|#39);/g,
        (_, name: string) => ({ amp: '&', lt: '<', gt: '>', quot: '"', '#39': "'" })[name] ?? '',
      );
      expect(back).toBe(visibleText(text));
    }),
  );
});

it('shows what would hide: controls and marks that turn the direction of writing, not lines, tabs and letters', () => {
  expect(visibleText('a\u0000b\u001b[31m\u202ecba\u2066\u200f\u2029')).toBe(
    'a\ufffdb\ufffd[31m\ufffdcba\ufffd\ufffd\ufffd',
  );
  expect(visibleText('a\tb\r\nc é שלום 你好')).toBe('a\tb\r\nc é שלום 你好');
});

it('puts markup in as it is, joins lists and leaves out what is not there', () => {
  expect(html`<b>${[markup('<i>1</i>'), '<', 2, null, false]}</b>`.text).toBe(
    '<b><i>1</i>&lt;2</b>',
  );
});
