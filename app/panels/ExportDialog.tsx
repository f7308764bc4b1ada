import { Button, Dialog, Heading, Modal, ModalOverlay } from 'react-aria-components';
import { words } from '../messages.ts';
import { useActions, useBench } from '../state/workbench.tsx';

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
  const parts = useBench((s) => s.derived.view?.parts) ?? [];
  const errorCount = useBench(
    (s) => s.derived.view?.findings.filter((f) => f.severity === 'error').length ?? 0,
  );
  const movedMm = useBench((s) => s.derived.view?.movedMm) ?? [];
  const isExporting = useBench((s) => s.derived.busy?.what === 'exporting');
  return (
    <Dialog>
      <Heading slot="title">{words.exportTitle}</Heading>
      {errorCount > 0 && <p className="said-error">{words.exportErrors(errorCount)}</p>}
      {movedMm.some((by) => by !== 0) && <p data-testid="parts-moved">{words.partsMoved(movedMm)}</p>}
      <ul className="export-parts">
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
        isPending={isExporting}
        onPress={() => void actions.exportPart(null)}
      >
        {words.allParts}
      </Button>
      <section className="cautions">
        <h3>{words.beforePrint}</h3>
        <ul>
          {words.cautions.map((caution) => (
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
