import { Button, FileTrigger } from 'react-aria-components';
import { outlineIn, pathOfOutline } from '../../src/index.ts';
import { isSame } from '../state/is-same.ts';
import { findJoint } from '../state/job-edits.ts';
import { useActions, useBench, useSeam } from '../state/workbench.tsx';
import { Words } from '../ui/Words.tsx';
import { words } from '../words.ts';
import './OutlineFields.css';

/** How a joint is given an outline of its own: drawn in the face drawing, as the data of a path, or from a file. */
export function OutlineFields({ seamId, jointId }: { seamId: string; jointId: string }) {
  const actions = useActions();
  const outline = useSeam(
    seamId,
    (seam) => {
      const joint = findJoint(seam, jointId);
      return (joint && outlineIn(joint)) ?? null;
    },
    isSame,
  );
  const drawn = useBench(({ sitting: { outlining } }) =>
    outlining?.seamId === seamId && outlining.jointId === jointId ? outlining.points.length : null,
  );
  const takeFile = (file: File) => void actions.outline.take(seamId, jointId, file.name, file.text());
  return (
    <div className="outline-fields wide">
      {drawn === null ? (
        <>
          <Button onPress={() => actions.outline.begin(seamId, jointId)}>{words.drawOutline}</Button>
          <FileTrigger
            acceptedFileTypes={['.svg', 'image/svg+xml']}
            onSelect={(files) => files?.[0] && takeFile(files[0])}
          >
            <Button>{words.openOutline}</Button>
          </FileTrigger>
        </>
      ) : (
        <>
          <p className="soft" role="status">
            {words.drawingOutline(drawn)}
          </p>
          <Button isDisabled={drawn === 0} onPress={actions.outline.takeBack}>
            {words.takeBackCorner}
          </Button>
          <Button onPress={actions.outline.cancel}>{words.cancelLine}</Button>
        </>
      )}
      <Words
        label={words.outlinePath}
        value={outline === null ? '' : pathOfOutline(outline)}
        mostLetters={MOST_LETTERS}
        onCommit={(text) => void actions.outline.take(seamId, jointId, null, text)}
      />
    </div>
  );
}

/** More than any path of as many corners as there may be takes. */
const MOST_LETTERS = 100_000;
