import { describe, expect, it } from 'vitest';
import { scrubText } from '../../../src/lib/scrub-text.ts';

// Invented host, user and serial; addresses from the blocks reserved for documentation (RFC 5737, RFC 3849, RFC 7042).
const literals = [
  { text: '/srv/people/maren', placeholder: '<home>' },
  { text: 'maren', placeholder: '<user>' },
  { text: 'bench-seven', placeholder: '<host>' },
  { text: 'SN-00417-XK', placeholder: '<serial>' },
];

describe('scrubText', () => {
  it.each([
    ['built by maren@bench-seven', 'built by <user>@<host>'],
    ['/srv/people/maren/x.bin', '<home>/x.bin'],
    ['disk SN-00417-XK found', 'disk <serial> found'],
    ['peer 192.0.2.17:8080', 'peer <ip>:8080'],
    ['peer 2001:db8::17 up', 'peer <ip> up'],
    ['peer 2001:db8:0:0:0:0:0:17 up', 'peer <ip> up'],
    ['eth 00:00:5e:00:53:af up', 'eth <mac> up'],
    ['root=UUID=01234567-89ab-cdef-0123-456789abcdef ro', 'root=UUID=<uuid> ro'],
    ['saved /home/someone/out.png', 'saved <home>/out.png'],
    ['saved C:\\Users\\someone\\out.png', 'saved <home>\\out.png'],
  ])('takes private words out of %j', (text, expected) => {
    expect(scrubText(text, literals)).toMatchObject({ text: expected });
  });

  it.each([
    '12:34:56',
    'marenello',
    'version 1.2.3',
    'std::vector<int>',
    'ratio 3:4',
    '0.5 s',
    'a:b',
  ])('leaves %j as it is', (text) => {
    expect(scrubText(text, literals)).toEqual({ text, redactions: 0 });
  });

  it('counts what it took out and finds nothing the second time', () => {
    const once = scrubText('maren 192.0.2.1 maren', literals);
    expect(once.redactions).toBe(3);
    expect(scrubText(once.text, literals).redactions).toBe(0);
  });
});
