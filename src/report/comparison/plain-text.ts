/**
 * A text from a result file that is fit to print on one line: control characters, line breaks and marks that turn the
 * direction of writing become `�`, since they could disguise what stands around them.
 */
export function plainText(text: string): string {
  return text.replace(/[\p{Cc}\u2028\u2029\u200e\u200f\u202a-\u202e\u2066-\u2069]/gu, '�');
}

/** The same of a whole page, whose line ends and tabs stay. */
export function plainPage(text: string): string {
  return text.replace(/[^\n\t]+/g, plainText);
}
