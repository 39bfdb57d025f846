/** Demonstrations say so in the operator's notes: the word `invented` anywhere in them. */
export function isMarkedInvented(notes: string | null): boolean {
  return notes !== null && /\binvented\b/i.test(notes);
}
