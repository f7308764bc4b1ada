import { spawnSync } from 'node:child_process';

/** What the general-purpose checker `admesh` found in a file as it is, before it mends anything. */
export interface AdmeshFindings {
  facets: number;
  disconnectedFacets: number;
  volume: number;
  parts: number;
  /** Degenerate facets, edges fixed, facets removed, added, reversed and turned, normals fixed. */
  mended: Record<string, number>;
}

function installed(): boolean {
  return spawnSync('admesh', ['--version'], { stdio: 'ignore' }).status === 0;
}

/** True when `admesh` is here, or could be installed just now. */
export function hasAdmesh(): boolean {
  if (installed()) return true;
  if (process.platform !== 'linux' || process.getuid?.() !== 0) return false;
  spawnSync('apt-get', ['install', '-y', 'admesh'], {
    stdio: 'ignore',
    env: { ...process.env, DEBIAN_FRONTEND: 'noninteractive' },
  });
  return installed();
}

/** Runs `admesh` on an STL file. @throws Error when it does not answer as expected. */
export function admesh(path: string): AdmeshFindings {
  const { stdout } = spawnSync('admesh', [path], { encoding: 'utf8' });
  const number = (label: string): number => {
    const found = new RegExp(`${label}\\s*:\\s*(-?[\\d.]+(?:e[+-]?\\d+)?)`, 'i').exec(stdout);
    if (!found) throw new Error(`admesh says nothing of “${label}”:\n${stdout}`);
    return Number(found[1]);
  };
  const mended = [
    'Degenerate facets',
    'Edges fixed',
    'Facets removed',
    'Facets added',
    'Facets reversed',
    'Backwards edges',
    'Normals fixed',
  ];
  return {
    facets: number('Number of facets'),
    disconnectedFacets: number('Total disconnected facets'),
    volume: number('Volume'),
    parts: number('Number of parts'),
    mended: Object.fromEntries(mended.map((label) => [label, number(label)])),
  };
}
