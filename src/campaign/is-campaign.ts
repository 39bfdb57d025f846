/** Whether the first key of a YAML text is `campaign`, so that it is read as one; comments and a `---` before it do not count. */
export function isCampaignText(text: string): boolean {
  return /^\ufeff?(?:[ \t]*(?:#.*|---.*|%.*)?\r?\n)*[ \t]*\{?\s*(["']?)campaign\1[ \t]*:/.test(
    text,
  );
}
