import { Button } from 'react-aria-components';
import { isSame } from '../state/is-same.ts';
import { offersOf } from '../state/offers.ts';
import { useActions, useBench } from '../state/workbench.tsx';
import { numeral, words } from '../words.ts';
import './Offers.css';

/** Bodies that touch or overlap: a press joins two of them there, without a cut. */
export function Offers({ onAdded }: { onAdded: (seamId: string | null) => void }) {
  const actions = useActions();
  const offers = useBench(offersOf, isSame);
  if (offers.length === 0) return null;
  return (
    <ul className="offers" data-scrolls>
      {offers.map((offer) => {
        const { front, back } = offer.names;
        return (
          <li key={`${offer.front} ${offer.back}`} data-testid={`offer-${offer.front}-${offer.back}`}>
            <span className="offer-text">
              {offer.overlap ? words.overlapping(front, back) : words.touching(front, back)}{' '}
              {!offer.overlap && <span className="soft numerals">{numeral(offer.areaMm2, 1)} mm²</span>}
            </span>
            <Button
              aria-label={
                offer.overlap ? words.joinOverlapping(front, back) : words.joinTouching(front, back)
              }
              onPress={() => onAdded(actions.joinBodies(offer))}
            >
              {words.join}
            </Button>
          </li>
        );
      })}
    </ul>
  );
}
