import { describe, expect, it } from 'vitest';
import { plainPage, plainText } from '../../../../src/report/comparison/plain-text.ts';

describe('texts of others on a screen', () => {
  it('neither move the cursor nor turn the writing around', () => {
    expect(plainText('a\u001b[31mb\u202ec\nd\te')).toBe('a�[31mb�c�d�e');
  });

  it('keep line ends and tabs of a page, and every letter', () => {
    const page = 'größer → ✓\n\tä\n';
    expect(plainPage(page)).toBe(page);
    expect(plainPage('a\u001b]0;x\u0007\n\u2066b\r')).toBe('a�]0;x�\n�b�');
  });
});
