import { Button, Dialog, Heading, Modal, ModalOverlay } from 'react-aria-components';
import { toGet } from '../../src/index.ts';
import { jobOf, refusalOf, staleness } from '../state/bench-state.ts';
import { isSame } from '../state/is-same.ts';
import { partsOnBench, waitingIn } from '../state/parts.ts';
import { useActions, useBench } from '../state/workbench.tsx';
import { messageText } from '../ui/message-text.ts';
import { namesIn } from '../ui/names.ts';
import { toGetText } from '../ui/to-get-text.ts';
import { words } from '../words.ts';
import './ExportDialog.css';

/** Parts to save one by one or all together, with what to mind before printing. */
export const ExportDialog = ({ isOpen, onClose }: { isOpen: boolean; onClose: () => void }) => (
  <ModalOverlay
    className="modal-veil"
    isOpen={isOpen}
    onOpenChange={(open) => !open && onClose()}
    isDismissable
  >
    <Modal className="modal">
      <ExportSheet />
    </Modal>
  </ModalOverlay>
);

function ExportSheet() {
  const actions = useActions();
  const parts = useBench(
    (s) => partsOnBench(s).map(({ id, name, boundsMm, volumeMm3 }) => ({ id, name, boundsMm, volumeMm3 })),
    isSame,
  );
  const errorCount = useBench(
    (s) => s.derived.view?.findings.filter((f) => f.severity === 'error').length ?? 0,
  );
  const waiting = useBench(
    (s) => waitingIn(s).map(({ seamId }) => namesIn(jobOf(s)).seam(seamId ?? '')),
    isSame,
  );
  const movedMm = useBench((s) => s.derived.view?.movedMm) ?? [];
  const things = useBench((s) => toGet(s.derived.view?.seams ?? []), isSame);
  const hasMagnets = useBench(
    (s) => s.derived.view?.findings.some((f) => f.code === 'small-magnet') ?? false,
  );
  const isStale = useBench((s) => staleness(s) !== null);
  const refusal = useBench(refusalOf);
  const isExporting = useBench((s) => s.derived.busy?.what === 'exporting');
  return (
    <Dialog>
      <Heading slot="title">{words.exportTitle}</Heading>
      {(isStale || refusal) && (
        <p className="said-error" data-testid="export-refused">
          {[isStale && words.exportStale, refusal && messageText(refusal)].filter(Boolean).join(' ')}
        </p>
      )}
      {errorCount > 0 && !isStale && <p className="said-error">{words.exportErrors(errorCount)}</p>}
      {waiting.length > 0 && !isStale && (
        <p className="said-error" data-testid="export-waiting">
          {words.exportWaiting(waiting)}
        </p>
      )}
      {movedMm.some((by) => by !== 0) && <p data-testid="parts-moved">{words.partsMoved(movedMm)}</p>}
      <ul className="export-parts" {...(isStale && { 'data-stale': true })}>
        {parts.map((part) => (
          <li key={part.id}>
            <span>
              <strong>{part.name}</strong>
              <span className="numerals soft">
                {words.partFacts(
                  part.boundsMm.max.map((high, i) => high - part.boundsMm.min[i]!),
                  part.volumeMm3,
                )}
              </span>
            </span>
            <Button
              data-testid={`export-${part.id}`}
              aria-label={words.partCalled(part.name)}
              isDisabled={isStale}
              isPending={isExporting}
              onPress={() => void actions.exportPart(part.id)}
            >
              {words.thisPart}
            </Button>
          </li>
        ))}
      </ul>
      <Button
        className="primary"
        data-testid="export-all"
        isDisabled={isStale}
        isPending={isExporting}
        onPress={() => void actions.exportPart(null)}
      >
        {words.allParts}
      </Button>
      {things.length > 0 && (
        <section className="cautions" data-testid="to-get">
          <h3>{words.toGetTitle}</h3>
          <ul>
            {things.map((thing) => (
              <li key={`${thing.kind}${Object.values(thing.sizes)}`}>{toGetText(thing)}</li>
            ))}
          </ul>
        </section>
      )}
      <section className="cautions">
        <h3>{words.beforePrint}</h3>
        <ul>
          {[...words.cautions, ...(hasMagnets ? [words.magnetCaution] : [])].map((caution) => (
            <li key={caution}>{caution}</li>
          ))}
        </ul>
      </section>
      <Button slot="close" className="modal-close">
        {words.close}
      </Button>
    </Dialog>
  );
}
