import { execFileSync } from 'node:child_process';

/** Compiles src/ once before the tests: child programs and worker threads run the compiled files. */
export default function build(): void {
  execFileSync('npm', ['run', '--silent', 'build'], { stdio: 'inherit' });
}
