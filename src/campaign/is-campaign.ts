const empty = /^[ \t\r]*(?:[#%][^\n]*|---[ \t\r]*|---[ \t]+#[^\n]*)?$/;
const firstKey = /^[ \t]*(?:---[ \t]+)?\{?[ \t]*(["']?)campaign\1[ \t]*:/;

/** Whether the first key of a YAML text is `campaign`, so that it is read as one; comments and a `---` before it do not count. */
export function isCampaignText(text: string): boolean {
  let start = text.startsWith('\ufeff') ? 1 : 0;
  while (start < text.length) {
    const end = text.indexOf('\n', start);
    // No key that is meant stands further to the right.
    const line = text.slice(start, end === -1 ? start + 1000 : Math.min(end, start + 1000));
    if (!empty.test(line)) return firstKey.test(line);
    if (end === -1) return false;
    start = end + 1;
  }
  return false;
}
