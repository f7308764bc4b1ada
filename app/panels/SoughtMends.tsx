import { Button } from 'react-aria-components';
import { useBench } from '../state/workbench.tsx';

interface SoughtProps<Mend> {
  /** Null until they are looked for. */
  mends: readonly Mend[] | null;
  seekText: string;
  noneText: string;
  textOf: (mend: Mend) => string;
  onSeek: () => void;
  onChoose: (mend: Mend) => void;
}

/** Changes that are looked for when that is asked, each told with what it gives before it is made. */
export function SoughtMends<Mend>({
  mends,
  seekText,
  noneText,
  textOf,
  onSeek,
  onChoose,
}: SoughtProps<Mend>) {
  const isBusy = useBench((s) => s.derived.busy !== null);
  if (mends === null) {
    return (
      <Button className="finding-remedy" isDisabled={isBusy} onPress={onSeek}>
        {seekText}
      </Button>
    );
  }
  if (mends.length === 0) return <p className="finding-remedy soft">{noneText}</p>;
  return mends.map((mend, i) => (
    <Button key={i} className="finding-remedy" onPress={() => onChoose(mend)}>
      {textOf(mend)}
    </Button>
  ));
}
