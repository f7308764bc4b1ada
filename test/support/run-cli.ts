import { spawn } from 'node:child_process';
import { resolve } from 'node:path';

/** What a run of the command line left behind. */
export interface CliRun {
  exitCode: number;
  stdout: string;
  stderr: string;
  /** The lines of standard error that are no progress: what was refused. */
  complaints: string[];
}

const root = resolve(import.meta.dirname, '../..');

/** Runs the real command as a process of its own, in folder `cwd`; `hooks` are modules to load before it. */
export function runCli(args: string[], cwd = root, hooks: string[] = []): Promise<CliRun> {
  const imports = [import.meta.resolve('tsx'), ...hooks].flatMap((hook) => ['--import', hook]);
  return new Promise((done, fail) => {
    const child = spawn(process.execPath, [...imports, resolve(root, 'src/cli/main.ts'), ...args], {
      cwd,
      stdio: ['ignore', 'pipe', 'pipe'],
      env: { ...process.env, NO_COLOR: '1' },
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
      const complaints = stderr.split('\n').filter((line) => line !== '' && !/^[a-z]+…$/.test(line));
      done({ exitCode: code ?? -1, stdout, stderr, complaints });
    });
  });
}
