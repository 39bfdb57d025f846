/** Whether a call to the system failed (a full disk, a folder that is gone), and not the program. */
export function isSystemError(error: unknown): error is NodeJS.ErrnoException {
  return error instanceof Error && 'syscall' in error;
}
