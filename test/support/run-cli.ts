import { spawn } from 'node:child_process';
import { join, resolve } from 'node:path';

/** What a run of the command line left behind. */
export interface CliRun {
  exitCode: number;
  stdout: string;
  stderr: string;
  /** The lines of standard error that are no progress: what was refused. */
  complaints: string[];
}

const root = resolve(import.meta.dirname, '../..');

export interface CliOptions {
  /** Folder to call it from; the repository's if none is given. */
  cwd?: string;
  /** Modules to load before it. */
  hooks?: string[];
  /** Added to the environment. */
  env?: Record<string, string>;
}

/** Runs the real command as a process of its own. */
export function runCli(
  args: string[],
  { cwd = root, hooks = [], env = {} }: CliOptions = {},
): Promise<CliRun> {
  // Hooks look at the modules as the sources have them; without any it is the bundle, which starts the sooner.
  const imports = [import.meta.resolve('tsx'), ...hooks].flatMap((hook) => ['--import', hook]);
  const program =
    hooks.length > 0 ? [...imports, join(root, 'src/cli/main.ts')] : [join(root, 'src/cli/pegwright.mjs')];
  return new Promise((done, fail) => {
    const child = spawn(process.execPath, [...program, ...args], {
      cwd,
      stdio: ['ignore', 'pipe', 'pipe'],
      env: { ...process.env, NO_COLOR: '1', ...env },
    });
    let [stdout, stderr] = ['', ''];
    child.stdout.setEncoding('utf8').on('data', (text: string) => {
      stdout += text;
    });
    child.stderr.setEncoding('utf8').on('data', (text: string) => {
      stderr += text;
    });
    child.on('error', fail);
    child.on('close', (code) => {
      const complaints = stderr.split('\n').filter((line) => line !== '' && !/^[A-Z][a-z ]+…$/.test(line));
      done({ exitCode: code ?? -1, stdout, stderr, complaints });
    });
  });
}

/**
 * The answer, which must be all there is on standard output.
 * @throws Error when the run complained, or printed anything but JSON.
 */
export function answerOf<T>({ stdout, complaints }: CliRun): T {
  if (complaints.length > 0) throw new Error(complaints.join('\n'));
  return JSON.parse(stdout) as T;
}
