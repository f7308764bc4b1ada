import { memo, useCallback, useId, useMemo } from 'react';
import { ToggleButton, ToggleButtonGroup } from 'react-aria-components';
import { useKept } from '../state/use-kept.ts';
import { type CutJoint, cutJoint, isSameJoint } from './cut-joint.ts';
import './drawing.css';
import { drawingWords } from '../words.ts';
import { type HostSide, type JointResult, type JointSection, jointKind, type Pole } from './engine.ts';
import { ScaleBar } from './ScaleBar.tsx';
import { SectionDetail } from './SectionDetail.tsx';
import { SectionDimensions, SkinWall } from './SectionDimensions.tsx';
import { SectionParts } from './SectionParts.tsx';
import { chooseDetail, type DetailChoice, sectionBounds, sectionPanel, wayOf } from './section-layout.ts';
import { isWholeJoint } from './section-measure.ts';
import { TUNING } from './tuning.ts';
import { useSectionInput } from './use-section-input.ts';
import { useViewport } from './use-viewport.ts';
import { fitView, type Rect, type Size, toScreen, type View } from './view.ts';
import './SectionDrawing.css';

type Across = JointSection['across'];

export interface SectionDrawingProps {
  /** Null while it is being worked out, or when no peg is chosen. */
  section: JointSection | null;
  peg: JointResult | null;
  /** The two parts by name. */
  names: { pegged: string; socketed: string };
  across: Across;
  onAcross(across: Across): void;
  /** The process's least wall, mm. */
  minWallMm: number;
}

/** Both parts cut through a peg's axis, hatched and dimensioned, with the tip's corner enlarged beside them. */
export const SectionDrawing = memo((props: SectionDrawingProps) => {
  const { section, peg, names, across, onAcross, minWallMm } = props;
  const thin = peg !== null && peg.wallMm.min < minWallMm;
  return (
    <div className="drawing section-drawing">
      {peg && (
        <div className="section-bar">
          <AcrossChoice across={across} onAcross={onAcross} />
          <span className={`section-fact${thin ? ' is-thin' : ''}`} data-testid="section-wall">
            {drawingWords.leastWall(peg.wallMm.min)}
            {thin && ` ${drawingWords.tooThin}`}
          </span>
        </div>
      )}
      {section && peg ? (
        <SectionSheet section={section} peg={peg} names={names} />
      ) : (
        <p className="drawing-empty">{peg ? drawingWords.noSection : drawingWords.noPeg}</p>
      )}
    </div>
  );
});

const AcrossChoice = memo(({ across, onAcross }: Pick<SectionDrawingProps, 'across' | 'onAcross'>) => {
  return (
    <ToggleButtonGroup
      className="section-across"
      aria-label={drawingWords.across}
      selectionMode="single"
      disallowEmptySelection
      selectedKeys={[across]}
      onSelectionChange={(keys) => onAcross(keys.has('height') ? 'height' : 'width')}
    >
      <span className="section-across-word">{drawingWords.across}</span>
      <ToggleButton id="width">{drawingWords.width}</ToggleButton>
      <ToggleButton id="height">{drawingWords.height}</ToggleButton>
    </ToggleButtonGroup>
  );
});

interface SheetProps {
  section: JointSection;
  peg: JointResult;
  names: SectionDrawingProps['names'];
}

function SectionSheet({ section, peg, names }: SheetProps) {
  const joint = useKept(cutJoint(section, peg), isSameJoint);
  const { socketProfile, further } = joint;
  const way = wayOf(section);
  const fitted = useCallback(
    (size: Size) => fitView(sectionBounds({ socketProfile, further }), sectionPanel(size, way).window, way),
    [socketProfile, further, way],
  );
  const port = useViewport(fitted);
  const input = useSectionInput(port);
  return (
    <svg
      ref={port.ref}
      className="drawing-paper"
      role="application"
      aria-label={`${drawingWords.section}, ${drawingWords.peg(peg.index)}`}
      {...input}
    >
      {port.ready && (
        <SectionViews
          section={section}
          joint={joint}
          wallMm={peg.wallMm}
          poles={jointKind(peg.settled.kind).poles}
          names={names}
          view={port.view}
          size={port.size}
        />
      )}
    </svg>
  );
}

interface ViewsProps {
  section: JointSection;
  joint: CutJoint;
  wallMm: JointResult['wallMm'];
  poles: Poles | undefined;
  names: SectionDrawingProps['names'];
  view: View;
  size: Size;
}

type Poles = Readonly<Record<HostSide, Pole>>;

function SectionViews({ section, joint, wallMm, poles, names, view, size }: ViewsProps) {
  const id = useId();
  const { window, detail } = useMemo(() => sectionPanel(size, view.way), [size, view.way]);
  const isWhole = useMemo(() => isWholeJoint(joint), [joint]);
  const choice = useMemo(() => chooseDetail(joint, detail.radius), [joint, detail]);
  return (
    <>
      <clipPath id={`${id}-window`}>
        <rect {...window} />
      </clipPath>
      <g clipPath={`url(#${id}-window)`}>
        <SectionParts section={section} view={view} within={window} />
        {poles && <PoleLetters poles={poles} joint={joint} view={view} />}
        <Axis view={view} window={window} />
        <DetailMark choice={choice} view={view} />
        <PartNames names={names} view={view} window={window} />
      </g>
      <rect className="section-window" {...window} />
      {isWhole && <SectionDimensions joint={joint} view={view} window={window} />}
      <SkinWall section={section} wallMm={wallMm} view={view} window={window} />
      <SectionDetail
        section={section}
        joint={isWhole ? joint : null}
        choice={choice}
        place={detail}
        way={view.way}
        clipId={`${id}-detail`}
      />
      <ScaleBar pxPerMm={view.scale} x={10} foot={size.height - 4} room={window.width + 60} />
    </>
  );
}

/** Each magnet's poles, at its end by the face and at the other. */
const PoleLetters = memo(({ poles, joint, view }: { poles: Poles; joint: CutJoint; view: View }) => {
  const { footMm, lengthMm, further, acrossMm } = joint;
  const there: { sign: 1 | -1; side: HostSide }[] = [{ sign: 1, side: 'socketed' }];
  if (further.length > 0) there.push({ sign: -1, side: 'pegged' });
  return (
    <g className="drawing-dimension">
      {there.flatMap(({ sign, side }) =>
        [0.25, 0.75].map((share) => {
          const [x, y] = toScreen(view, [-acrossMm / 4, sign * (footMm + share * lengthMm)]);
          const pole = share < 0.5 === (poles[side] === 'N') ? 'N' : 'S';
          return (
            <text key={`${side}${share}`} className="drawing-numeral" textAnchor="middle" x={x} y={y + 4}>
              {pole}
            </text>
          );
        }),
      )}
    </g>
  );
});

const Axis = memo(({ view, window }: { view: View; window: Rect }) => {
  const [x] = toScreen(view, [0, 0]);
  return <path className="drawing-axis" d={`M${x} ${window.y}V${window.y + window.height}`} />;
});

/** How far under its corner a letter stands that is over it, or under it, px. */
const LETTER_FOOT = { 1: 0, [-1]: 10 };

/** The thin circle with its letter where the detail is taken from. */
const DetailMark = memo(({ choice, view }: { choice: DetailChoice; view: View }) => {
  const [x, y] = toScreen(view, choice.centre);
  const r = choice.radius * view.scale;
  return (
    <g className="drawing-dimension">
      <circle className="drawing-detail-ring" cx={x} cy={y} r={r} />
      <text
        className="drawing-numeral"
        x={x + r * 0.72 + 3}
        y={y - view.way * (r * 0.72 + 3) + LETTER_FOOT[view.way]}
      >
        A
      </text>
    </g>
  );
});

const PartNames = memo(({ names, view, window }: Pick<ViewsProps, 'names' | 'view'> & { window: Rect }) => {
  const [x] = toScreen(view, [0, 0]);
  const at = Math.min(Math.max(x, window.x + 30), window.x + window.width - 30);
  const room = Math.max(4, Math.floor((0.6 * window.width) / TUNING.letterPx));
  const cut = (name: string) => (name.length > room ? `${name.slice(0, room - 1)}…` : name);
  const [above, below] = view.way > 0 ? [names.socketed, names.pegged] : [names.pegged, names.socketed];
  return (
    <g className="drawing-dimension">
      <text className="drawing-numeral drawing-word" textAnchor="middle" x={at} y={window.y + 16}>
        {cut(above)}
      </text>
      <text
        className="drawing-numeral drawing-word"
        textAnchor="middle"
        x={at}
        y={window.y + window.height - 8}
      >
        {cut(below)}
      </text>
    </g>
  );
});
