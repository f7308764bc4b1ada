import { vi } from 'vitest';
import { command } from '../../src/cli/command.ts';
import type { CliRun } from './run-cli.ts';

/** Runs the command within this process, which is much quicker than one of its own: for calls by the hundred. */
export async function runCommand(args: readonly string[]): Promise<CliRun> {
  let [stdout, stderr] = ['', ''];
  const out = vi.spyOn(process.stdout, 'write').mockImplementation((text) => {
    stdout += String(text);
    return true;
  });
  const err = vi.spyOn(process.stderr, 'write').mockImplementation((text) => {
    stderr += String(text);
    return true;
  });
  try {
    const exitCode = await command(args);
    const complaints = stderr.split('\n').filter((line) => line !== '' && !/^[A-Z][a-z ]+…$/.test(line));
    return { exitCode, stdout, stderr, complaints };
  } finally {
    out.mockRestore();
    err.mockRestore();
  }
}
