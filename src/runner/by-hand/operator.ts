/** The person at the terminal, as the runner sees them. */
export interface Operator {
  /** Shows lines that need no answer. */
  tell(text: string): void;
  /** The line that was typed; null once the signal is aborted or nothing more can be typed. */
  ask(prompt: string, signal: AbortSignal): Promise<string | null>;
}
