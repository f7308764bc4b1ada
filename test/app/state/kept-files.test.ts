import { describe, expect, it } from 'vitest';
import { keptFiles } from '../../../app/state/kept-files.ts';

const blob = new Blob(['x']);

describe('files kept between sittings', () => {
  it('come back as they were, several or one', () => {
    const files = [
      { name: 'a.gltf', blob },
      { name: 'a.bin', blob },
    ];
    expect(keptFiles({ files })).toEqual(files);
  });

  it('come back where a single one was kept as it once was', () => {
    expect(keptFiles({ blob, name: 'old.stl' })).toEqual([{ name: 'old.stl', blob }]);
  });

  it.each([undefined, null, 7, {}, { files: [{ name: 'a.stl' }] }, { files: ['a'] }])(
    'are none where %j was kept',
    (kept) => {
      expect(keptFiles(kept)).toEqual([]);
    },
  );
});
