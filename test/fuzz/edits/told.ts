import { createHash } from 'node:crypto';
import { unzipSync } from 'fflate';
import type { EnginePort } from '../../../app/state/ports.ts';
import { asErrorRecord } from '../../../app/state/refusal.ts';
import type { Job } from '../../../src/index.ts';

/** What an engine makes of a job: the code it refuses it with, or the parts' files by their digests and all that is told of them. */
export async function toldOf(engine: EnginePort, job: Job) {
  try {
    const view = await engine.evaluate(job, null, () => {}, false);
    if (view === 'superseded') throw new Error('nothing else was asked');
    const { file } = await engine.export(job, null, () => {});
    const files = unzipSync(new Uint8Array(await file.arrayBuffer()));
    return {
      refused: null,
      files: Object.entries(files).map(([name, bytes]) => [name, sha256(bytes)]),
      findings: view.findings,
      seams: view.seams.map(({ id, way, areaMm2, joints }) => ({ id, way, areaMm2, joints })),
      parts: view.parts.map(({ id, name, triangles, volumeMm3 }) => ({ id, name, triangles, volumeMm3 })),
    };
  } catch (thrown) {
    return { refused: asErrorRecord(thrown), parts: [] };
  }
}

const sha256 = (bytes: Uint8Array): string => createHash('sha256').update(bytes).digest('hex');
